using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Records periods from a state that repeats.</summary>
internal static class PeriodRecord
{
    /// <summary>Runs and records.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <param name="probes">Signals to record.</param>
    /// <param name="from">The state.</param>
    /// <param name="origin">Instant in seconds, at the phase of the state.</param>
    /// <param name="period">Period in seconds.</param>
    /// <param name="end">Receives the state at the end; null when the run was interrupted.</param>
    public static TransientResult Run(
        CircuitSystem system, PeriodicOptions options, IReadOnlyList<Probe> probes, PeriodBoundary from, double origin, double period, out PeriodBoundary? end)
    {
        var settings = options.Shooting with { Stop = origin + options.Periods * period, Start = origin };
        using var run = new TransientRun(system, settings);

        // One period ahead of the record: the error control learns what the signals' peaks are.
        from.Resume(system, run, origin);
        while (run.Time < origin + period && run.Advance())
        {
        }

        var seen = run.Events.Count;
        from.Resume(system, run, origin);
        var recorder = new Recorder(system, probes, settings with { Accuracy = options.Accuracy });
        recorder.Begin(run);
        recorder.Follow(run);
        while (run.Advance())
        {
            recorder.Record(run);
        }

        end = run.Status == RunStatus.Completed ? PeriodBoundary.Of(system, run) : null;
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
}
