namespace BoardSim.Measurement;

/// <summary>One passage between the two states of a waveform, with what follows it up to the next passage.</summary>
/// <param name="Wave">The waveform.</param>
/// <param name="Levels">Its states.</param>
/// <param name="Middle">The passage through the middle level.</param>
/// <param name="Before">End of the passage before this one, or the start of the waveform; in seconds.</param>
/// <param name="Until">The next passage through the middle level, or the end of the waveform; in seconds.</param>
internal sealed record Transition(Waveform Wave, StateLevels Levels, Crossing Middle, double Before, double Until)
{
    /// <summary>Ripple about the middle level within this share of the amplitude makes no transition.</summary>
    public const double Hysteresis = 0.1;

    /// <summary>The first transition of that direction at or after an instant; else the reason why there is none.</summary>
    public static (Transition? Found, MetricResult Why) First(MetricInput input, Edge edge)
    {
        var (levels, why) = StatesOf(input);
        if (levels is not { } states)
        {
            return (null, why);
        }

        var wave = input.Wave;
        var crossings = wave.Crossings(states.Reference(0.5), Edge.Either, Hysteresis * states.Amplitude);
        var from = input.Optional("from") ?? wave.Start;
        for (var i = 0; i < crossings.Count; i++)
        {
            if (crossings[i].Time >= from && (edge == Edge.Either || crossings[i].Edge == edge))
            {
                var before = i > 0 ? crossings[i - 1].Time : wave.Start;
                var until = i < crossings.Count - 1 ? crossings[i + 1].Time : wave.End;
                return (new Transition(wave, states, crossings[i], before, until), why);
            }
        }

        var kind = edge switch { Edge.Rising => "rising ", Edge.Falling => "falling ", _ => "" };
        return (null, MetricResult.None(
            $"There is no {kind}transition between {Show.Value(states.Low, wave)} and {Show.Value(states.High, wave)} in the window, {Show.Window(wave)}."));
    }

    /// <summary>The states: given ones, or those of the histogram.</summary>
    public static (StateLevels? Levels, MetricResult Why) StatesOf(MetricInput input)
    {
        var found = StateLevels.Of(input.Wave);
        var (low, high) = (input.Optional("state-low") ?? found?.Low, input.Optional("state-high") ?? found?.High);
        if (low is not { } l || high is not { } h)
        {
            return (null, MetricResult.None($"{input.Wave.Name} does not change in the window, {Show.Window(input.Wave)}."));
        }

        return h > l
            ? (new StateLevels(l, h), default)
            : (null, MetricResult.None($"The high state, {Show.Value(h, input.Wave)}, does not lie above the low one, {Show.Value(l, input.Wave)}."));
    }

    /// <summary>The last passage before the middle through a share of the amplitude and the first one after it, by direction; null where there is none.</summary>
    public (double? Start, double? End) Between(double low, double high)
    {
        var rising = Middle.Edge == Edge.Rising;
        var (startLevel, endLevel) = rising ? (Levels.Reference(low), Levels.Reference(high)) : (Levels.Reference(high), Levels.Reference(low));
        double? start = null;
        foreach (var crossing in Wave.Crossings(startLevel, Middle.Edge))
        {
            start = crossing.Time <= Middle.Time && crossing.Time >= Before ? crossing.Time : start;
        }

        var end = Wave.FirstCrossing(endLevel, Middle.Edge, Middle.Time);
        return (start, end <= Until ? end : null);
    }

    /// <summary>The state that the transition leads to.</summary>
    public double Destination => Middle.Edge == Edge.Rising ? Levels.High : Levels.Low;
}
