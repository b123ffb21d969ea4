using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class CurrentMetricTests
{
    // 1N4001 to 1N4007 data sheet: I_FSM 30 A, one half sine of 8.3 ms; the Joule integral of a half sine is I^2 t/2: 3.735 A2s.
    [Fact]
    public void I2t_of_a_rectifier_surge_rating()
    {
        var surge = Sampled.Curve(t => 30 * Math.Sin(Math.PI * t / 8.3e-3), 0, 8.3e-3, 2000, Unit.Ampere);
        Take.Near(3.735, Take.Value("i2t", surge), 1e-5);
        Take.Near(30, Take.Value("inrush-peak", surge.Scaled(-1)), 1e-6);
        Assert.Same(Unit.AmpereSquaredSecond, Metrics.Get("i2t").UnitFor(surge));
    }

    // RC charging from a step: integral of i^2 is C V^2/(2R) (energy CV^2/2 in R): 325.27 V, 10 ohm, 100 uF: 0.5290 A2s, peak 32.53 A.
    [Fact]
    public void I2t_of_a_capacitor_charging_through_a_resistor()
    {
        var inrush = Sampled.Curve(t => 32.527 * Math.Exp(-t / 1e-3), 0, 20e-3, 20000, Unit.Ampere);
        Take.Near(0.5290, Take.Value("i2t", inrush), 1e-4);
        Take.Near(32.53, Take.Value("inrush-peak", inrush), 1e-3);
    }

    // Capacitor-input rectifier with infinite capacitance, Rs/RL = 1 % (closed form tan a - a = pi Rs/(2 RL); reference table
    // computed from Schade, Proc. IRE 31 (1943) 341): output 0.93764 of the peak, conduction 40.68 deg,
    // rms current of the rectifier 2.306 times the direct one. What is not direct goes through the capacitor: 2.306^2 - 1^2.
    [Fact]
    public void Conduction_angle_and_capacitor_current_of_a_full_wave_rectifier()
    {
        var current = Sampled.Cycles(x => Math.Max(0, Math.Abs(Math.Cos(2 * Math.PI * x)) - 0.93764), 60, 3, 20000, Unit.Ampere);
        Assert.Equal(40.68, Take.Value("conduction-angle", current, ("frequency", 60), ("threshold", 1e-4)), 0.02);
        var capacitor = current.Scaled(1, -current.Mean());
        Take.Near(2.306, Take.Value("rms", current) / current.Mean(), 1e-3);
        Take.Near(Math.Sqrt(2.306 * 2.306 - 1), Take.Value("capacitor-rms-current", capacitor) / current.Mean(), 1e-3);
    }

    // The same closed form for the half-wave rectifier: 0.90354 of the peak, conduction 50.75 deg.
    [Fact]
    public void Conduction_angle_of_a_half_wave_rectifier()
    {
        var current = Sampled.Cycles(x => Math.Max(0, Math.Cos(2 * Math.PI * x) - 0.90354), 50, 3, 20000, Unit.Ampere);
        Assert.Equal(50.75, Take.Value("conduction-angle", current, ("frequency", 50), ("threshold", 1e-4), ("pulses-per-cycle", 1)), 0.02);
    }

    // Line current of a bridge has both signs; a window that is not of whole cycles is cut to those.
    [Fact]
    public void Conduction_angle_takes_both_signs_and_whole_cycles()
    {
        var line = Sampled.Curve(t => Math.Sin(2 * Math.PI * 50 * t) is var s && Math.Abs(s) > 0.5 ? s : 0, 0, 0.047, 47000, Unit.Ampere);
        // |sin| exceeds one half from 30 deg to 150 deg: 120 deg of each half cycle.
        Assert.Equal(120, Take.Value("conduction-angle", line, ("frequency", 50)), 0.1);
    }

    [Fact]
    public void What_cannot_be_computed_says_why()
    {
        var volts = Sampled.Points((0, 1), (1, 2));
        var amperes = Sampled.Curve(_ => 1, 0, 0.001, 1, Unit.Ampere);
        Assert.Contains("test is a voltage", Take.Reason("i2t", volts.Named("test")), StringComparison.Ordinal);
        Assert.Contains("shorter than one cycle of 20 ms", Take.Reason("conduction-angle", amperes, ("frequency", 50)), StringComparison.Ordinal);
        Assert.Contains("needs the parameter frequency", Take.Reason("conduction-angle", amperes), StringComparison.Ordinal);
        Assert.Contains("must be a whole number", Take.Reason("conduction-angle", amperes, ("frequency", 50), ("pulses-per-cycle", 1.5)), StringComparison.Ordinal);
        Assert.Contains("no parameter frequenzy; it takes frequency, threshold", Take.Reason("conduction-angle", amperes, ("frequenzy", 50)), StringComparison.Ordinal);
        Assert.Contains("must lie between", Take.Reason("conduction-angle", amperes, ("frequency", -50)), StringComparison.Ordinal);
    }
}
