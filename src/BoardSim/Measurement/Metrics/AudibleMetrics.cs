using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of what of a torque, a force or a current may be heard.</summary>
internal static class AudibleMetrics
{
    // Lines of 20 Hz from 20 Hz to 20 kHz: one cycle of 50 ms, so that no component falls between the lines and is lost to the sum.
    private const double Lines = 20;
    private const int Highest = 1000;

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "audible", Title = "Audible part, A-weighted RMS",
            Definition = "RMS value of all components from 20 Hz to 20 kHz, each weighted by the ear's sensitivity (A-weighting, IEC 61672-1), over the last 50 ms of the window; 1 kHz counts in full, 100 Hz with a ninth.",
            Compute = input => Analyse(input, found => Math.Sqrt(Enumerable.Range(1, Highest).Sum(k => Math.Pow(Weight(k * Lines) * found.Rms(k), 2)))),
        },
        new()
        {
            Id = "tone-frequency", Title = "Frequency of the loudest tone", Unit = Unit.Hertz,
            Definition = "Frequency of the strongest component from 20 Hz to 20 kHz after A-weighting (IEC 61672-1), in steps of 20 Hz, over the last 50 ms of the window.",
            Compute = input => Analyse(input, found => Enumerable.Range(1, Highest).MaxBy(k => Weight(k * Lines) * found.Rms(k)) * Lines),
        },
    ];

    /// <summary>A-weighting as a factor, one at 1 kHz (IEC 61672-1:2013, equation E.6; from memory).</summary>
    /// <param name="hertz">Frequency in hertz, positive.</param>
    internal static double Weight(double hertz) => Response(hertz) / Response(1000);

    private static double Response(double hertz)
    {
        var f = hertz * hertz;
        const double a = 20.598997 * 20.598997, b = 107.65265 * 107.65265, c = 737.86223 * 737.86223, d = 12194.217 * 12194.217;
        return d * f * f / ((f + a) * Math.Sqrt((f + b) * (f + c)) * (f + d));
    }

    private static MetricResult Analyse(MetricInput input, Func<HarmonicAnalysis, MetricResult> take)
    {
        var wave = input.Wave;
        var last = wave.Duration > 1 / Lines ? wave.Slice(wave.End - 1 / Lines, wave.End) : wave;
        return HarmonicAnalysis.Of(last, Lines, Highest) is { } found ? take(found) : WholeCycles.TooShort(wave, Lines);
    }
}
