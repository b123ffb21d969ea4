using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of a step between two states, after IEEE Std 181-2011 and IEC 60469:2013.</summary>
internal static class TransitionMetrics
{
    private const string States = " The states are the modes of the histogram's halves unless given (IEEE Std 181-2011; IEC 60469:2013).";

    private static readonly MetricParameter Low = new("lower-reference", Unit.Percent, "Lower reference level, share of the amplitude.")
    {
        Source = ParameterSource.Default,
        Default = 0.1,
        Minimum = 0.001,
        Maximum = 0.499,
    };

    private static readonly MetricParameter High = new("upper-reference", Unit.Percent, "Upper reference level, share of the amplitude.")
    {
        Source = ParameterSource.Default,
        Default = 0.9,
        Minimum = 0.501,
        Maximum = 0.999,
    };

    private static readonly MetricParameter[] Step = [CommonParameters.From, CommonParameters.StateLow, CommonParameters.StateHigh];

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "rise-time", Title = "Rise time", Unit = Unit.Second,
            Definition = "Transition duration of the first positive-going transition, from the lower to the upper reference level, 10 % and 90 % unless given." + States,
            Parameters = [Low, High, .. Step],
            Compute = input => Duration(input, Edge.Rising),
        },
        new()
        {
            Id = "fall-time", Title = "Fall time", Unit = Unit.Second,
            Definition = "Transition duration of the first negative-going transition, from the upper to the lower reference level, 90 % and 10 % unless given." + States,
            Parameters = [Low, High, .. Step],
            Compute = input => Duration(input, Edge.Falling),
        },
        new()
        {
            Id = "overshoot", Title = "Overshoot", Unit = Unit.Percent,
            Definition = "How far the waveform goes beyond the state that the first transition leads to, up to the next transition, in percent of the amplitude." + States,
            Parameters = Step,
            Compute = Overshoot,
        },
        new()
        {
            Id = "settling-time", Title = "Settling time", Unit = Unit.Second,
            Definition = "From the middle (50 %) of the first transition to the instant after which the waveform stays within the band about the state it leads to, up to the next transition (transition settling duration)." + States,
            Parameters =
            [
                new("band", Unit.Percent, "Half width of the band, share of the amplitude.") { Source = ParameterSource.Default, Default = 0.02, Minimum = 1e-6, Maximum = 0.5 },
                .. Step,
            ],
            Compute = Settling,
        },
        new()
        {
            Id = "low-state", Title = "Level of the low state",
            Definition = "Mode of the lower half of the histogram of time over value (IEEE Std 181-2011; IEC 60469:2013).",
            Compute = input => Transition.StatesOf(input) is (StateLevels levels, _) ? levels.Low : Transition.StatesOf(input).Why,
        },
        new()
        {
            Id = "high-state", Title = "Level of the high state",
            Definition = "Mode of the upper half of the histogram of time over value (IEEE Std 181-2011; IEC 60469:2013).",
            Compute = input => Transition.StatesOf(input) is (StateLevels levels, _) ? levels.High : Transition.StatesOf(input).Why,
        },
    ];

    private static MetricResult Duration(MetricInput input, Edge edge)
    {
        var (found, why) = Transition.First(input, edge);
        if (found is null)
        {
            return why;
        }

        var (start, end) = found.Between(input["lower-reference"], input["upper-reference"]);
        var first = edge == Edge.Rising ? input["lower-reference"] : input["upper-reference"];
        var second = edge == Edge.Rising ? input["upper-reference"] : input["lower-reference"];
        return start is null ? MetricResult.None($"The transition at {Show.Time(found.Middle.Time)} does not start beyond {Quantity.FormatShort(first, Unit.Percent)} within the window.")
            : end is null ? MetricResult.None($"The transition at {Show.Time(found.Middle.Time)} does not reach {Quantity.FormatShort(second, Unit.Percent)} before the next one or the end of the window.")
            : end.Value - start.Value;
    }

    private static MetricResult Overshoot(MetricInput input)
    {
        var (found, why) = Transition.First(input, Edge.Either);
        if (found is null)
        {
            return why;
        }

        var after = found.Wave.Slice(found.Middle.Time, found.Until);
        var beyond = found.Middle.Edge == Edge.Rising
            ? after.Maximum().Value - found.Destination
            : found.Destination - after.Minimum().Value;
        return Math.Max(0, beyond / found.Levels.Amplitude);
    }

    private static MetricResult Settling(MetricInput input)
    {
        var (found, why) = Transition.First(input, Edge.Either);
        if (found is null)
        {
            return why;
        }

        var band = input["band"] * found.Levels.Amplitude;
        var away = found.Wave.Slice(found.Middle.Time, found.Until).Scaled(1, -found.Destination);
        double? settled = null;
        foreach (var level in new[] { band, -band })
        {
            foreach (var crossing in away.Crossings(level))
            {
                // Coming back into the band is falling through its top or rising through its bottom.
                if (crossing.Edge == (level > 0 ? Edge.Falling : Edge.Rising) && !(crossing.Time < settled))
                {
                    settled = crossing.Time;
                }
            }
        }

        // The next transition leaves the band through the middle level; what it does there is not this one's business.
        var end = found.Until < found.Wave.End ? null : (double?)away.Values[^1];
        return Math.Abs(end ?? 0) > band || settled is null
            ? MetricResult.None($"The waveform is not within {Quantity.FormatShort(input["band"], Unit.Percent)} of {Show.Value(found.Destination, found.Wave)} at the end of the window, {Show.Time(found.Until)}.")
            : settled.Value - found.Middle.Time;
    }
}
