using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class PowerMetricTests
{
    private static double Cos(double x, double degrees) => Math.Cos(2 * Math.PI * x + degrees * Math.PI / 180);

    // Hart, Power Electronics (2011), example 2-10: v = 100 cos wt, i = 8 + 15 cos(wt + 30 deg) + 6 cos(2wt + 45 deg)
    // + 2 cos(3wt + 60 deg): 650 W, 14.0 A, pf 0.66, DF 0.757, THD 0.864; more digits of the same sums: 649.5, 14.018, 0.6553.
    [Fact]
    public void Power_factor_of_a_nonlinear_load()
    {
        var v = Sampled.Cycles(x => 100 * Cos(x, 0), 60, 2);
        var i = Sampled.Cycles(x => 8 + 15 * Cos(x, 30) + 6 * Cos(2 * x, 45) + 2 * Cos(3 * x, 60), 60, 2, 1999, Unit.Ampere);
        Take.Near(649.5, Take.Value("power", v, i), 1e-4);
        Take.Near(100 / Math.Sqrt(2) * 14.018, Take.Value("apparent-power", v, i), 1e-4);
        Take.Near(0.6553, Take.Value("power-factor", v, i, ("frequency", 60)), 2e-4);
        Take.Near(0.6553, Take.Value("power-factor", i, v, ("frequency", 60)), 2e-4);
        Take.Near(0.757, Take.Value("distortion-factor", i, ("frequency", 60)), 1e-3);
        Take.Near(0.864, Take.Value("total-distortion", i, ("frequency", 60)), 1e-3);
        Take.Near(Math.Cos(Math.PI / 6), Take.Value("displacement-factor", v, i, ("frequency", 60)), 1e-5);
        // IEC 61000-4-7: harmonics from the second up, without the direct component.
        Take.Near(Math.Sqrt(6 * 6 + 2 * 2) / 15, Take.Value("thd", i, ("frequency", 60)), 1e-4);
    }

    // Hart, example 2-9: v = 10 + 20 cos(2 pi 60 t - 25 deg) + 30 cos(4 pi 60 t + 20 deg) on 5 ohm and 15 mH: I1 = 2.65 A,
    // I2 = 2.43 A, P = 52.2 W (52.27 with more digits). Angles of the impedances: atan(wL/R).
    [Fact]
    public void Power_of_a_nonsinusoidal_source()
    {
        static double Lag(double order) => Math.Atan(order * 2 * Math.PI * 60 * 15e-3 / 5) * 180 / Math.PI;
        var v = Sampled.Cycles(x => 10 + 20 * Cos(x, -25) + 30 * Cos(2 * x, 20), 60);
        var i = Sampled.Cycles(x => 2 + 2.65 * Cos(x, -25 - Lag(1)) + 2.43 * Cos(2 * x, 20 - Lag(2)), 60, unit: Unit.Ampere);
        Take.Near(52.27, Take.Value("power", v, i), 2e-3);
    }

    [Fact]
    public void Window_is_cut_to_whole_cycles_for_the_power_factor()
    {
        // A resistive load has power factor 1; lagging 60 deg has 0.5 (cos 60 deg), at any window.
        var v = Sampled.Curve(t => Math.Sin(2 * Math.PI * 50 * t), 0, 0.0533, 20000);
        var i = Sampled.Curve(t => Math.Sin(2 * Math.PI * 50 * t - Math.PI / 3), 0, 0.0533, 20000, Unit.Ampere);
        Take.Near(0.5, Take.Value("power-factor", v, i, ("frequency", 50)), 1e-5);
    }

    [Fact]
    public void Frequency_of_the_mains_is_taken_when_none_is_given()
    {
        var v = Sampled.Cycles(x => Cos(x, 0), 50);
        var i = Sampled.Cycles(x => Cos(x, 60), 50, unit: Unit.Ampere);
        var input = new MetricInput { Wave = v, Second = i, LineFrequency = 50 };
        Take.Near(0.5, Metrics.Get("power-factor").Evaluate(input).Value, 1e-5);
    }

    [Fact]
    public void What_cannot_be_computed_says_why()
    {
        var v = Sampled.Cycles(x => Cos(x, 0), 50);
        var zero = Sampled.Cycles(_ => 0, 50, unit: Unit.Ampere);
        Assert.Contains("needs a second waveform", Take.Reason("power", v), StringComparison.Ordinal);
        Assert.Contains("takes a voltage and a current", Metrics.Get("power").Evaluate(v, v).Reason, StringComparison.Ordinal);
        Assert.Contains("zero throughout", Metrics.Get("power-factor").Evaluate(v, zero, ("frequency", 50)).Reason, StringComparison.Ordinal);
        Assert.Contains("no fundamental", Metrics.Get("displacement-factor").Evaluate(v, zero, ("frequency", 50)).Reason, StringComparison.Ordinal);
    }
}
