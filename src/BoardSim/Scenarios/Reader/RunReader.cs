using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Running;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the run settings.</summary>
internal static class RunReader
{
    private static readonly string[] OfSettling = ["stop", "record-from"];
    private static readonly string[] OfTime = ["start", "periods", "stop", "record-from", "alike-periods"];
    private static readonly string[] OfFrequency = ["from-frequency", "to-frequency", "points-per-decade"];

    public static RunSettings Read(Section root, BlockInHand? block)
    {
        var usual = block?.Board is { SuggestedStop: null } ? RunKind.OperatingPoint : RunKind.Transient;
        if (root.Node("run") is not { } node || Section.Open(node, ScenarioFormat.Run, root.Findings) is not { } section)
        {
            return new RunSettings { Kind = usual };
        }

        // A length says that waveforms are wanted, whatever the block is usually computed for.
        var stop = section.Quantity("stop");
        var usualRange = new RunSettings();
        var run = new RunSettings
        {
            Kind = section.Choice("compute", Words.Computation)?.Value ?? (section.Has("stop") || section.Has("periods") ? RunKind.Transient
                : OfFrequency.Any(section.Has) ? RunKind.FrequencyResponse : usual),
            IsPowerOff = section.Choice("power", Words.Power)?.Value ?? false,
            Start = section.Choice("start", Words.Start)?.Value,
            Periods = section.Count("periods"),
            Stop = stop,
            RecordFrom = section.Quantity("record-from") ?? 0,
            Accuracy = section.Quantity("accuracy") ?? 1e-3,
            FromFrequency = section.Quantity("from-frequency") ?? usualRange.FromFrequency,
            ToFrequency = section.Quantity("to-frequency") ?? usualRange.ToFrequency,
            PointsPerDecade = section.Count("points-per-decade") ?? usualRange.PointsPerDecade,
            Leaps = section.Choice("alike-periods", Words.AlikePeriods)?.Value,
        };
        Check(section, run, block);
        return run;
    }

    private static void Check(Section section, RunSettings run, BlockInHand? block)
    {
        if (run.IsPowerOff && block?.Block is { SupplyParts.Count: 0 })
        {
            section.Note("power", $"block {block.Id} names no leads of its supply that could hang open; it has power all the time");
        }

        if (run.IsPowerOff && run.Start == RunStart.Periodic)
        {
            section.Note("power", "without power nothing repeats; start otherwise");
            return;
        }

        foreach (var key in OfFrequency.Where(k => run.Kind != RunKind.FrequencyResponse && section.Has(k)))
        {
            section.Note(key, $"\"{key}\" belongs to \"compute: frequency-response\"");
        }

        if (run.Kind != RunKind.Transient)
        {
            var what = run.Kind == RunKind.OperatingPoint ? "an operating point" : "a frequency response";
            foreach (var key in OfTime.Where(section.Has))
            {
                section.Note(key, $"{what} has no time axis, so \"{key}\" means nothing here");
            }

            if (run.Kind == RunKind.FrequencyResponse)
            {
                CheckFrequencies(section, run);
            }

            return;
        }

        if (run.Start == RunStart.Periodic)
        {
            CheckPeriodic(section, run, block);
            return;
        }

        if (section.Has("periods"))
        {
            section.Note("periods", "periods are counted of a run with \"start: periodic\" alone; give this one a \"stop\"");
        }

        var stop = run.Stop ?? block?.Board?.SuggestedStop;
        if (stop is null && block?.Board is not null && !section.Has("stop"))
        {
            section.Note("compute", $"block {block.Id} suggests no length of a run; give it a \"stop\"");
        }

        if (stop is { } end && run.RecordFrom >= end)
        {
            section.Note("record-from", $"recording would start after the run has ended at {Quantities.Quantity.FormatShort(end, Quantities.Unit.Second)}");
        }
    }

    private static void CheckFrequencies(Section section, RunSettings run)
    {
        if (run.ToFrequency <= run.FromFrequency)
        {
            var (last, first) = (Quantities.Quantity.FormatShort(run.ToFrequency, Quantities.Unit.Hertz), Quantities.Quantity.FormatShort(run.FromFrequency, Quantities.Unit.Hertz));
            section.Note(section.Has("to-frequency") ? "to-frequency" : "from-frequency", $"the response would end at {last} and begin at {first}; the last frequency has to be the higher one");
        }

        if (section.Has("accuracy"))
        {
            section.Note("accuracy", "a frequency response is solved exactly at each frequency, so there is no accuracy to choose");
        }
    }

    private static void CheckPeriodic(Section section, RunSettings run, BlockInHand? block)
    {
        foreach (var key in OfSettling.Where(section.Has))
        {
            section.Note(key, $"a run that starts periodic has nothing to wait for and is as long as its \"periods\", so \"{key}\" means nothing here");
        }

        if (block?.Board is { } board && PeriodicLength.Of(run, board, out var problem) is null)
        {
            section.Note("start", $"block {block.Id} has no periodic state: {problem!.TrimEnd('.')}; start it otherwise");
        }
    }
}
