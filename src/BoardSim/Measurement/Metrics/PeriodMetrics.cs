using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of repetition: period, frequency, duty.</summary>
internal static class PeriodMetrics
{
    private static readonly MetricParameter[] Step =
    [
        new("level", null, "Level whose passages are counted; the middle between the two states unless given.") { Source = ParameterSource.Derived },
        CommonParameters.StateLow,
        CommonParameters.StateHigh,
    ];

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "period", Title = "Period", Unit = Unit.Second,
            Definition = "Mean time between passages upwards through the middle level; ripple within 10 % of the amplitude does not count (waveform period, IEEE Std 181-2011).",
            Parameters = Step,
            Compute = input => Find(input, (period, _) => period),
        },
        new()
        {
            Id = "frequency", Title = "Frequency", Unit = Unit.Hertz,
            Definition = "Reciprocal of the mean time between passages upwards through the middle level; ripple within 10 % of the amplitude does not count (IEEE Std 181-2011).",
            Parameters = Step,
            Compute = input => Find(input, (period, _) => 1 / period),
        },
        new()
        {
            Id = "duty", Title = "Duty factor", Unit = Unit.Percent,
            Definition = "Share of the time above the middle level over whole periods (pulse duration over pulse period, IEEE Std 181-2011).",
            Parameters = Step,
            Compute = input => Find(input, (_, duty) => duty),
        },
    ];

    private static MetricResult Find(MetricInput input, Func<double, double, double> take)
    {
        var (states, why) = Transition.StatesOf(input);
        if (states is not { } levels)
        {
            return why;
        }

        var level = input.Optional("level") ?? levels.Reference(0.5);
        var rising = input.Wave.Crossings(level, Edge.Rising, Transition.Hysteresis * levels.Amplitude);
        if (rising.Count < 2)
        {
            return MetricResult.None($"{input.Wave.Name} rises through {Show.Value(level, input.Wave)} {(rising.Count == 0 ? "not at all" : "only once")} in the window, {Show.Window(input.Wave)}; a period takes two passages.");
        }

        var whole = input.Wave.Slice(rising[0].Time, rising[^1].Time);
        return take(whole.Duration / (rising.Count - 1), whole.TimeAbove(level) / whole.Duration);
    }
}
