using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class AmplitudeMetricTests
{
    // Hart, Power Electronics (2011), example 2-4: rms of a pulse train is Vm sqrt(D); 12 V, D = 0.385: 4.62 V and 7.446 V.
    [Fact]
    public void Mean_and_rms_of_a_pulse_train()
    {
        var wave = Sampled.Pulses(0, 12, 0.385, 1e-3, 5);
        Take.Near(4.62, Take.Value("mean", wave), 1e-9);
        Take.Near(7.446, Take.Value("rms", wave), 1e-4);
    }

    // Hart, examples 2-7 and 2-8: 4 + 8 sin(wt + 10 deg) + 5 sin(2wt + 50 deg) has 7.78 V; with both at the same frequency
    // 9.57 V is printed, 9.547 V exact; 3 A with a triangle of 2 A peak has 3.22 A. Sines cost 8e-7 in sampling.
    [Fact]
    public void True_rms_of_mixed_signals()
    {
        static double Sin(double x, double degrees) => Math.Sin(2 * Math.PI * x + degrees * Math.PI / 180);
        Take.Near(7.78, Take.Value("rms", Sampled.Cycles(x => 4 + 8 * Sin(x, 10) + 5 * Sin(2 * x, 50), 60)), 1e-3);
        Take.Near(9.547, Take.Value("rms", Sampled.Cycles(x => 4 + 8 * Sin(x, 10) + 5 * Sin(x, 50), 60)), 1e-4);
        Take.Near(3.2146, Take.Value("rms", Sampled.Cycles(x => 3 + 2 * Sampled.Triangle(x), 60, unit: Unit.Ampere)), 1e-4);
    }

    // A sawtooth of ripple Vpp has the rms Vpp/(2 sqrt 3), the usual estimate of a capacitor-input filter's ripple
    // (Horowitz and Hill, The Art of Electronics; from memory).
    [Fact]
    public void Ripple_of_a_sawtooth_on_a_rail()
    {
        var wave = Sampled.Points((0, 158), (0.001, 162), (0.010, 158), (0.011, 162), (0.020, 158));
        Assert.Equal(4, Take.Value("ripple-peak-to-peak", wave), 1e-12);
        Take.Near(4 / (2 * Math.Sqrt(3)), Take.Value("ripple-rms", wave), 1e-9);
        Take.Near(4 / (2 * Math.Sqrt(3)) / 160, Take.Value("ripple-factor", wave), 1e-9);
        Assert.Equal(162, Take.Value("maximum", wave));
        Assert.Equal(158, Take.Value("minimum", wave));
        Assert.Equal(160, Take.Value("value-at", wave, ("at", 0.0005)), 1e-9);
        Assert.Contains("outside the window", Take.Reason("value-at", wave, ("at", 0.05)), StringComparison.Ordinal);
    }

    // Keysight, crest factor note (tip 3): the crest factor of a pulse train from zero is sqrt(T/t).
    [Theory]
    [InlineData(0.25, 2)]
    [InlineData(0.01, 10)]
    public void Crest_factor_of_pulses(double duty, double crest) =>
        Take.Near(crest, Take.Value("crest-factor", Sampled.Pulses(0, 5, duty, 1e-3, 4)), 1e-9);

    // Radio Shack 220-0181A, technical sheet 07173: pulses of 3 V and 10 % duty: 0.95 V rms, crest factor 3.16.
    [Fact]
    public void Rms_and_crest_factor_of_a_narrow_pulse()
    {
        var wave = Sampled.Pulses(0, 3, 0.1, 1e-3, 4);
        Assert.Equal(0.95, Take.Value("rms", wave), 0.005);
        Assert.Equal(3.16, Take.Value("crest-factor", wave), 0.005);
    }

    [Fact]
    public void Peak_is_a_magnitude() => Assert.Equal(7, Take.Value("peak", Sampled.Points((0, 3), (1, -7), (2, 5))));

    [Fact]
    public void Zero_waves_give_reasons()
    {
        var zero = Sampled.Points((0, 0), (1, 0));
        Assert.Contains("mean is zero", Take.Reason("ripple-factor", zero), StringComparison.Ordinal);
        Assert.Contains("is zero throughout", Take.Reason("crest-factor", zero), StringComparison.Ordinal);
    }

    [Fact]
    public void A_single_sample_is_an_operating_point()
    {
        var point = Sampled.Points((0, -3));
        Assert.Equal(-3, Take.Value("mean", point));
        Assert.Equal(3, Take.Value("rms", point));
        Assert.Equal(0, Take.Value("ripple-rms", point));
    }
}
