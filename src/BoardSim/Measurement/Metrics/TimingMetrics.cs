using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of when something happens after something else.</summary>
internal static class TimingMetrics
{
    private const string Drive = "the drive (port voltage or coil supply) whose edge starts the time";

    private static readonly MetricParameter[] Event =
    [
        CommonParameters.Level with { Description = "Level at which the observed contact or armature counts as moved." },
        CommonParameters.From with { Description = "Instant of the drive's edge, in place of a second waveform." },
    ];

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "hold-up-time", Title = "Hold-up time", Unit = Unit.Second,
            Definition = "From the loss of the line to the instant at which the rail falls below the level that its load needs (common practice, no source).",
            Parameters =
            [
                CommonParameters.Level with { Description = "Lowest voltage at which the load still works." },
                CommonParameters.From with { Description = "Instant at which the line is lost.", Source = ParameterSource.Required },
            ],
            Compute = HoldUp,
        },
        new()
        {
            Id = "time-to-fall", Title = "Time to fall to a level", Unit = Unit.Second,
            Definition = "From the given instant to the first passage downwards through the level.",
            Parameters = [CommonParameters.Level, CommonParameters.From],
            Compute = input => Passage(input, Edge.Falling),
        },
        new()
        {
            Id = "time-to-rise", Title = "Time to rise to a level", Unit = Unit.Second,
            Definition = "From the given instant to the first passage upwards through the level.",
            Parameters = [CommonParameters.Level, CommonParameters.From],
            Compute = input => Passage(input, Edge.Rising),
        },
        new()
        {
            Id = "operate-time", Title = "Operate time", Unit = Unit.Second, SecondRole = Drive,
            Definition = "From the drive's rising edge (50 %) to the first change of the contact, bounce not included (operate time, IEC 61810-1).",
            Parameters = Event,
            Compute = input => After(input, Edge.Rising, (first, _) => first),
        },
        new()
        {
            Id = "release-time", Title = "Release time", Unit = Unit.Second, SecondRole = Drive,
            Definition = "From the drive's falling edge (50 %) to the first change of the contact, bounce not included (release time, IEC 61810-1).",
            Parameters = Event,
            Compute = input => After(input, Edge.Falling, (first, _) => first),
        },
        new()
        {
            Id = "bounce-time", Title = "Bounce time", Unit = Unit.Second,
            Definition = "From the first to the last change of a contact that closes or opens in the window (bounce time, IEC 61810-1).",
            Parameters = Event,
            Compute = input => Changes(input, input.Optional("from") ?? input.Wave.Start, (first, last) => last - first),
        },
    ];

    private static MetricResult HoldUp(MetricInput input)
    {
        var (wave, level, from) = (input.Wave, input["level"], input["from"]);
        if (from < wave.Start || from > wave.End)
        {
            return Outside(from, wave);
        }

        if (wave.At(from) < level)
        {
            return MetricResult.None($"{wave.Name} lies at {Show.Value(wave.At(from), wave)} when the line is lost, below {Show.Value(level, wave)} already.");
        }

        return wave.FirstCrossing(level, Edge.Falling, from) is { } fell
            ? fell - from
            : MetricResult.None($"{wave.Name} stays above {Show.Value(level, wave)} to the end of the window: longer than {Show.Time(wave.End - from)}.");
    }

    private static MetricResult Passage(MetricInput input, Edge edge)
    {
        var (wave, level) = (input.Wave, input["level"]);
        var from = input.Optional("from") ?? wave.Start;
        if (from < wave.Start || from > wave.End)
        {
            return Outside(from, wave);
        }

        var verb = edge == Edge.Rising ? "rise" : "fall";
        return wave.FirstCrossing(level, edge, from) is { } passed
            ? passed - from
            : MetricResult.None($"{wave.Name} does not {verb} through {Show.Value(level, wave)} between {Show.Time(from)} and {Show.Time(wave.End)}.");
    }

    private static MetricResult After(MetricInput input, Edge driveEdge, Func<double, double, double> take)
    {
        if (input.Optional("from") is { } given)
        {
            return Changes(input, given, (first, last) => take(first - given, last - given));
        }

        if (input.Second is not { } drive)
        {
            return MetricResult.None($"The time needs a second waveform, {Drive}, or the parameter from.");
        }

        if (StateLevels.Of(drive) is not { } states || drive.FirstCrossing(states.Reference(0.5), driveEdge) is not { } start)
        {
            return MetricResult.None($"{drive.Name} has no {(driveEdge == Edge.Rising ? "rising" : "falling")} edge in the window, {Show.Window(drive)}.");
        }

        return Changes(input, start, (first, last) => take(first - start, last - start));
    }

    /// <summary>First and last passage in either direction from an instant on.</summary>
    private static MetricResult Changes(MetricInput input, double from, Func<double, double, double> take)
    {
        var (wave, level) = (input.Wave, input["level"]);
        if (from < wave.Start || from > wave.End)
        {
            return Outside(from, wave);
        }

        var after = wave.Crossings(level).Where(crossing => crossing.Time >= from).Select(crossing => crossing.Time).ToList();
        return after.Count > 0
            ? take(after[0], after[^1])
            : MetricResult.None($"{wave.Name} does not pass {Show.Value(level, wave)} between {Show.Time(from)} and {Show.Time(wave.End)}.");
    }

    private static MetricResult Outside(double from, Waveform wave) =>
        MetricResult.None($"The instant {Show.Time(from)} lies outside the window, {Show.Window(wave)}.");
}
