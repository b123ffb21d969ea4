using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Running;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the run settings.</summary>
internal static class RunReader
{
    private static readonly string[] OfSettling = ["stop", "record-from"];
    private static readonly string[] OfTime = ["start", "periods", "stop", "record-from", "alike-periods"];

    public static RunSettings Read(Section root, BlockInHand? block)
    {
        var usual = block?.Board is { SuggestedStop: null } ? RunKind.OperatingPoint : RunKind.Transient;
        if (root.Node("run") is not { } node || Section.Open(node, ScenarioFormat.Run, root.Findings) is not { } section)
        {
            return new RunSettings { Kind = usual };
        }

        // A length says that waveforms are wanted, whatever the block is usually computed for.
        var stop = section.Quantity("stop");
        var run = new RunSettings
        {
            Kind = section.Choice("compute", Words.Computation)?.Value ?? (section.Has("stop") || section.Has("periods") ? RunKind.Transient : usual),
            IsPowerOff = section.Choice("power", Words.Power)?.Value ?? false,
            Start = section.Choice("start", Words.Start)?.Value,
            Periods = section.Count("periods"),
            Stop = stop,
            RecordFrom = section.Quantity("record-from") ?? 0,
            Accuracy = section.Quantity("accuracy") ?? 1e-3,
            Leaps = section.Choice("alike-periods", Words.AlikePeriods)?.Value ?? false,
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

        if (run.Kind == RunKind.OperatingPoint)
        {
            foreach (var key in OfTime.Where(section.Has))
            {
                section.Note(key, $"an operating point has no time axis, so \"{key}\" means nothing here");
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
