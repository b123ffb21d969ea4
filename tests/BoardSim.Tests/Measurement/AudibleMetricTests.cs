using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

public class AudibleMetricTests
{
    // A-weighting as tabulated in IEC 61672-1, in dB (from memory), for a sine of RMS one. The table is for powers of 10^0.1, so 400 Hz stands for 398 Hz: the
    // rows taken are those where that makes no more than the last digit.
    [Theory]
    [InlineData(100, -19.1)]
    [InlineData(400, -4.8)]
    [InlineData(1000, 0)]
    [InlineData(2000, 1.2)]
    [InlineData(4000, 1.0)]
    [InlineData(8000, -1.1)]
    public void Weighting_of_the_standard(double hertz, double decibels)
    {
        var wave = Sampled.Curve(t => Math.Sqrt(2) * Math.Sin(2 * Math.PI * hertz * t), 0, 0.05, 100_000);
        Assert.Equal(decibels, 20 * Math.Log10(Take.Value("audible", wave)), 0.06);
        Assert.Equal(hertz, Take.Value("tone-frequency", wave));
    }

    // Two tones add by their squares, direct components and what lies beyond 20 kHz are not heard, and the ear prefers the higher of two alike.
    [Fact]
    public void Tones_add_by_their_squares()
    {
        var wave = Sampled.Curve(t => 5 + 3 * Math.Sin(2 * Math.PI * 1000 * t) + 4 * Math.Sin(2 * Math.PI * 400 * t) + 7 * Math.Sin(2 * Math.PI * 30e3 * t), 0, 0.1, 400_000);
        var expected = Math.Sqrt((9 + Math.Pow(4 * Math.Pow(10, -4.8 / 20), 2)) / 2);
        Take.Near(expected, Take.Value("audible", wave), 3e-3);
        Assert.Equal(1000, Take.Value("tone-frequency", wave));
    }

    [Fact]
    public void A_window_below_50_ms_is_refused() =>
        Assert.Contains("shorter", Take.Reason("audible", Sampled.Curve(t => t, 0, 0.04, 100)), StringComparison.Ordinal);
}
