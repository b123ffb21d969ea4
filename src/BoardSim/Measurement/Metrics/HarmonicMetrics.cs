using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of the harmonics of a periodic waveform.</summary>
internal static class HarmonicMetrics
{
    private static readonly MetricParameter Highest = new("highest-order", Unit.Ratio, "Highest order that is taken into account.")
    {
        Source = ParameterSource.Default,
        Default = 40,
        Minimum = 2,
        Maximum = 1000,
        IsWhole = true,
    };

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "harmonic", Title = "Harmonic, RMS",
            Definition = "RMS value of the component at a whole multiple of the frequency, by Fourier transform over the last whole cycles of the window (IEC 61000-4-7:2002).",
            Parameters =
            [
                CommonParameters.Frequency,
                new("order", Unit.Ratio, "Multiple of the frequency: 1 for the fundamental.") { Source = ParameterSource.Default, Default = 1, Minimum = 1, Maximum = 1000, IsWhole = true },
            ],
            Compute = input => Analyse(input, (int)input["order"], found => found.Rms((int)input["order"])),
        },
        new()
        {
            Id = "thd", Title = "Total harmonic distortion", Unit = Unit.Percent,
            Definition = "RMS value of the harmonics from the second to the highest order divided by that of the fundamental, over the last whole cycles of the window (IEC 61000-4-7:2002; order 40 as in IEC 61000-3-2).",
            Parameters = [CommonParameters.Frequency, Highest],
            Compute = input => Analyse(input, (int)input["highest-order"], found => PerFundamental(found.RmsAboveFundamental, found)),
        },
        new()
        {
            Id = "total-distortion", Title = "Total distortion", Unit = Unit.Percent,
            Definition = "RMS value of everything but the fundamental, direct component and all orders, divided by that of the fundamental, over the last whole cycles of the window (Hart, Power Electronics, 2011, chapter 2).",
            Parameters = [CommonParameters.Frequency],
            Compute = input => Analyse(input, 1, found => PerFundamental(Rest(input, found), found)),
        },
        new()
        {
            Id = "distortion-factor", Title = "Distortion factor", Unit = Unit.Ratio,
            Definition = "RMS value of the fundamental divided by that of the whole, over the last whole cycles of the window (Hart, Power Electronics, 2011, chapter 2; fundamental factor of IEC 60050-103).",
            Parameters = [CommonParameters.Frequency],
            Compute = input => Analyse(input, 1, found => Whole(input) is var rms && rms > 0
                ? found.Rms(1) / rms
                : MetricResult.None("The waveform is zero throughout the window.")),
        },
        new()
        {
            Id = "switching-fundamental", Title = "Component at the switching frequency, RMS",
            Definition = "RMS value of the component at the switching frequency, by Fourier transform over the last whole cycles of the window.",
            Parameters = [CommonParameters.Frequency with { Source = ParameterSource.SwitchingFrequency, Description = "The switching frequency; that of the converter unless given." }],
            Compute = input => Analyse(input, 1, found => found.Rms(1)),
        },
    ];

    private static MetricResult Analyse(MetricInput input, int highest, Func<HarmonicAnalysis, MetricResult> take) =>
        HarmonicAnalysis.Of(input.Wave, input["frequency"], highest) is { } found ? take(found) : WholeCycles.TooShort(input.Wave, input["frequency"]);

    /// <summary>A fundamental that is rounding error alone gives no ratio.</summary>
    private static MetricResult PerFundamental(double rms, HarmonicAnalysis found) =>
        found.Rms(1) > 1e-12 * (rms + Math.Abs(found.Mean)) ? rms / found.Rms(1) : MetricResult.None("The waveform has no component at the frequency of the fundamental.");

    private static double Whole(MetricInput input) => WholeCycles.Last(input.Wave, input["frequency"])!.Value.Wave.Rms();

    private static double Rest(MetricInput input, HarmonicAnalysis found) =>
        Math.Sqrt(Math.Max(0, Math.Pow(Whole(input), 2) - Math.Pow(found.Rms(1), 2)));
}
