using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Records periods from a state that repeats, or may turn out to.</summary>
internal sealed class PeriodRecord
{
    private readonly IReadOnlyList<Probe> probes;
    private readonly TransientRun run;
    private readonly double origin;
    private readonly int seen;
    private readonly Recorder recorder;

    /// <summary>Begins a record where a run stands.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <param name="probes">Signals to record.</param>
    /// <param name="run">The run, at the start of a period.</param>
    public PeriodRecord(CircuitSystem system, PeriodicOptions options, IReadOnlyList<Probe> probes, TransientRun run)
    {
        (this.probes, this.run, origin, seen) = (probes, run, run.Time, run.Events.Count);
        recorder = new Recorder(system, probes, options.Transient with { Start = origin });
        run.BeginRecord();
        recorder.Begin(run);
        recorder.Follow(run);
    }

    /// <summary>Records the step that was just accepted.</summary>
    public void Take() => recorder.Record(run);

    /// <summary>The record, its time counted from its start.</summary>
    public TransientResult Finish()
    {
        run.BeforeEvents = null;
        var columns = Columns.Of(recorder, probes.Count);
        var times = columns[0] = Array.ConvertAll(columns[0], t => t - origin);
        if (times.Length > 0)
        {
            // The first point is the step that makes the unknowns fit the charges, of next to no length.
            times[0] = 0;
        }

        var events = run.Events.Skip(seen).Select(e => e with { Time = e.Time - origin }).ToList();
        return new TransientResult(probes, Columns.Store(columns), run.Evidence, events, run.Status);
    }

    /// <summary>Runs and records periods from a state that repeats.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <param name="probes">Signals to record.</param>
    /// <param name="from">The state.</param>
    /// <param name="map">The map that it was found with.</param>
    /// <param name="end">Receives the state at the end; null when the run was interrupted.</param>
    public static TransientResult Run(
        CircuitSystem system, PeriodicOptions options, IReadOnlyList<Probe> probes, PeriodBoundary from, PeriodMap map, out PeriodBoundary? end)
    {
        using var run = new TransientRun(system, map.Settings with { Stop = map.Origin + options.Periods * map.Period, WallClockLimit = options.WallClockLimit }) { Peaks = map.Tolerated };
        from.Resume(system, run, map.Origin);
        var record = new PeriodRecord(system, options, probes, run);
        while (run.Advance())
        {
            record.Take();
        }

        end = run.Status == RunStatus.Completed ? PeriodBoundary.Of(system, run) : null;
        return record.Finish();
    }
}
