using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class HarmonicMetricTests
{
    // Fourier series of rectified sines and of the square wave, Hart, Power Electronics (2011), appendix (F-1, F-2, F-5).
    public static TheoryData<string, int, double> Series => new()
    {
        { "full-wave", 2, 0.424413 }, { "full-wave", 4, 0.0848826 }, { "full-wave", 6, 0.0363783 }, { "full-wave", 8, 0.0202102 },
        { "half-wave", 1, 0.5 }, { "half-wave", 2, 0.212207 }, { "half-wave", 4, 0.0424413 }, { "half-wave", 6, 0.0181891 },
        { "square", 1, 1.273240 }, { "square", 3, 0.424413 }, { "square", 5, 0.254648 }, { "square", 7, 0.181891 },
    };

    [Theory]
    [MemberData(nameof(Series))]
    public void Harmonics_of_known_series(string shape, int order, double peak)
    {
        // The corner of a rectified sine falls on a sample; arcs cost (2 pi/2000)^2/12 = 8e-7 of the fundamental.
        var wave = Wave(shape);
        Take.Near(peak / Math.Sqrt(2), Take.Value("harmonic", wave, ("frequency", 50), ("order", order)), 5e-5);
    }

    [Theory]
    [InlineData("full-wave", 0.636620)]
    [InlineData("half-wave", 0.318310)]
    public void Direct_component_of_known_series(string shape, double mean) =>
        Take.Near(mean, HarmonicAnalysis.Of(Wave(shape), 50)!.Mean, 2e-6);

    // Square wave: all odd harmonics 1/n; up to order 40 the sum of 1/n^2 over n = 3, 5 .. 39, and in the limit sqrt(pi^2/8 - 1) = 48.34 %
    // (sum of the inverse odd squares, Euler).
    [Fact]
    public void Distortion_of_a_square_wave()
    {
        var sum = Enumerable.Range(1, 19).Sum(k => 1.0 / ((2 * k + 1) * (2 * k + 1)));
        Take.Near(Math.Sqrt(sum), Take.Value("thd", Wave("square"), ("frequency", 50)), 1e-4);
        Take.Near(0.4834, Take.Value("total-distortion", Wave("square"), ("frequency", 50)), 1e-4);
    }

    // IEC 61000-3-2, table 1 (from memory, and as printed in test reports): 2.30 A of the third, 1.14 A of the fifth, 0.77 A of the seventh, 0.15 A of the
    // fifteenth, 1.08 A of the second harmonic.
    [Theory]
    [InlineData(3, 2.30)]
    [InlineData(5, 1.14)]
    [InlineData(7, 0.77)]
    [InlineData(15, 0.15)]
    [InlineData(2, 1.08)]
    [InlineData(39, 0.15 * 15 / 39)]
    public void A_current_at_its_limit_of_class_A_has_a_share_of_one(int order, double amperes)
    {
        var wave = Sampled.Cycles(x => 10 * Math.Sin(2 * Math.PI * x) + Math.Sqrt(2) * amperes * Math.Sin(2 * Math.PI * order * x), 50, 10);

        // Straight lines between 2000 samples a cycle take (39 pi / 2000)^2 / 3 = 1.3e-3 from the 39th harmonic.
        Take.Near(1, Take.Value("harmonic-limit-class-a", Amperes(wave), ("frequency", 50)), 2e-3);
    }

    // Worked limits of class D: 500 W may have 1.7 A of the third harmonic, 1000 W are capped at the 2.3 A of class A (discussions of the standard, references of the
    // project); 100 W may have 0.34 A.
    [Theory]
    [InlineData(100, 0.34)]
    [InlineData(500, 1.7)]
    [InlineData(1000, 2.3)]
    public void A_current_at_its_limit_of_class_D_has_a_share_of_one(double watts, double amperes)
    {
        var volts = Sampled.Cycles(x => 230 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), 50, 10);
        var current = Amperes(Sampled.Cycles(x => watts / 230 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * x) + Math.Sqrt(2) * amperes * Math.Sin(6 * Math.PI * x), 50, 10));
        var input = new MetricInput { Wave = current, Second = new Waveform("line", Unit.Volt, volts.Times, volts.Values), LineFrequency = 50 };
        Take.Near(1, Metrics.Get("harmonic-limit-class-d").Evaluate(input).Value, 2e-3);
    }

    [Fact]
    public void Up_to_75_watts_there_are_no_limits_of_class_D()
    {
        var volts = Sampled.Cycles(x => 230 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), 50, 10);
        var current = Amperes(Sampled.Cycles(x => 0.2 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), 50, 10));
        var none = Metrics.Get("harmonic-limit-class-d").Evaluate(new MetricInput { Wave = current, Second = volts, LineFrequency = 50 });
        Assert.Contains("up to 75 W there are no limits", none.Reason, StringComparison.Ordinal);
    }

    // 12 V across 6 ohm for a tenth of a second: 24 W, 2.4 J (Joule's law).
    [Fact]
    public void Energy_is_power_times_time()
    {
        var volts = new Waveform("v", Unit.Volt, [0, 0.1], [12, 12]);
        Take.Near(2.4, Metrics.Get("energy").Evaluate(volts, new Waveform("i", Unit.Ampere, [0, 0.1], [2, 2])).Value, 1e-12);
    }

    private static Waveform Amperes(Waveform wave) => new("line current", Unit.Ampere, wave.Times, wave.Values);

    [Fact]
    public void Phase_is_the_cosine_angle_at_the_start()
    {
        var wave = Sampled.Cycles(x => 3 * Math.Cos(2 * Math.PI * x + 0.7) + Math.Cos(6 * Math.PI * x - 1.1), 50, 3);
        var found = HarmonicAnalysis.Of(wave, 50, 5)!;
        Assert.Equal(3, found.Cycles);
        Assert.Equal(0.7, found.Phase(1), 1e-6);
        Assert.Equal(-1.1, found.Phase(3), 1e-5);
        Assert.Equal(3, found.Peak(1), 1e-5);
        Assert.Throws<ArgumentOutOfRangeException>(() => found.Peak(6));
    }

    // Triangle ripple of Vpp has the fundamental 4 Vpp/pi^2 peak (Fourier series of the triangle, any table of series).
    [Fact]
    public void Switching_component_of_triangular_ripple_under_a_drifting_rail()
    {
        var wave = Sampled.Cycles(x => 12 + 0.05 * Sampled.Triangle(x), 65e3, 400, 8);
        var input = new MetricInput { Wave = wave, SwitchingFrequency = 65e3 };
        Take.Near(4 * 0.1 / (Math.PI * Math.PI) / Math.Sqrt(2), Metrics.Get("switching-fundamental").Evaluate(input).Value, 1e-4);
    }

    [Fact]
    public void Long_windows_use_the_last_cycles_they_can_hold()
    {
        // Four thousand cycles; the first half is distorted, the last is a pure sine of rms 1/sqrt 2.
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x) + (x < 2000 ? 1 : 0), 50, 4000, 100);
        Take.Near(1 / Math.Sqrt(2), Take.Value("harmonic", wave, ("frequency", 50), ("order", 1)), 1e-3);
        Assert.True(HarmonicAnalysis.Of(wave, 50, 40)!.Cycles < 2000);
        Assert.Equal(0, HarmonicAnalysis.Of(wave, 50, 40)!.Mean, 1e-9);
    }

    [Fact]
    public void What_cannot_be_computed_says_why()
    {
        var flat = Sampled.Cycles(_ => 5, 50);
        Assert.Contains("no component at the frequency", Take.Reason("thd", flat, ("frequency", 50)), StringComparison.Ordinal);
        Assert.Contains("shorter than one cycle", Take.Reason("thd", flat, ("frequency", 40)), StringComparison.Ordinal);
        Assert.Contains("needs the parameter frequency", Take.Reason("switching-fundamental", flat), StringComparison.Ordinal);
    }

    private static Waveform Wave(string shape) => shape switch
    {
        "full-wave" => Sampled.Cycles(x => Math.Abs(Math.Sin(2 * Math.PI * x)), 50, 2),
        "half-wave" => Sampled.Cycles(x => Math.Max(0, Math.Sin(2 * Math.PI * x)), 50, 2),
        _ => Sampled.Pulses(-1, 1, 0.5, 0.02, 2),
    };
}
