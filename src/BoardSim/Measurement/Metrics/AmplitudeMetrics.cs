using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of how large a waveform is.</summary>
internal static class AmplitudeMetrics
{
    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "mean", Title = "Mean",
            Definition = "Time integral over the window divided by its length, the direct component (mean value, IEC 60050-103).",
            Compute = input => input.Wave.Mean(),
        },
        new()
        {
            Id = "rms", Title = "RMS value",
            Definition = "Root of the mean square over the window, direct component included (IEC 60050-103).",
            Compute = input => input.Wave.Rms(),
        },
        new()
        {
            Id = "maximum", Title = "Maximum",
            Definition = "Largest value in the window.",
            Compute = input => input.Wave.Maximum().Value,
        },
        new()
        {
            Id = "minimum", Title = "Minimum",
            Definition = "Smallest value in the window.",
            Compute = input => input.Wave.Minimum().Value,
        },
        new()
        {
            Id = "peak", Title = "Peak",
            Definition = "Largest distance from zero in the window, whichever its sign.",
            Compute = input => Math.Abs(input.Wave.Peak().Value),
        },
        new()
        {
            Id = "ripple-peak-to-peak", Title = "Ripple, peak to peak",
            Definition = "Largest minus smallest value in the window (peak-to-valley value, IEC 60050-103).",
            Compute = input => input.Wave.PeakToPeak(),
        },
        new()
        {
            Id = "ripple-rms", Title = "Ripple, RMS",
            Definition = "Root of the mean square about the mean: the RMS value of the alternating component (IEC 60050-103).",
            Compute = input => input.Wave.AcRms(),
        },
        new()
        {
            Id = "ripple-factor", Title = "Ripple factor", Unit = Unit.Ratio,
            Definition = "RMS value of the alternating component divided by the magnitude of the direct component (RMS ripple factor, IEC 60050-103).",
            Compute = input => input.Wave.Mean() is var mean && mean != 0
                ? input.Wave.AcRms() / Math.Abs(mean)
                : MetricResult.None("The mean is zero, so there is nothing to relate the ripple to."),
        },
        new()
        {
            Id = "crest-factor", Title = "Crest factor", Unit = Unit.Ratio,
            Definition = "Peak divided by RMS value (peak factor, IEC 60050-103).",
            Compute = input => input.Wave.Rms() is var rms && rms > 0
                ? Math.Abs(input.Wave.Peak().Value) / rms
                : MetricResult.None("The waveform is zero throughout the window."),
        },
        new()
        {
            Id = "value-at", Title = "Value at an instant",
            Definition = "Value at the given instant; at a jump the value after it.",
            Parameters = [new("at", Unit.Second, "The instant.") { Source = ParameterSource.Required }],
            Compute = input => input["at"] >= input.Wave.Start && input["at"] <= input.Wave.End
                ? input.Wave.At(input["at"])
                : MetricResult.None($"The instant {Show.Time(input["at"])} lies outside the window, {Show.Window(input.Wave)}."),
        },
    ];
}
