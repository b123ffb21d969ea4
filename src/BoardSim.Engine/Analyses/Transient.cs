using BoardSim.Engine.Analyses.Envelopes;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>Runs a transient to its end and records chosen signals.</summary>
public static class Transient
{
    /// <summary>Runs and records.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <param name="probes">Signals to record.</param>
    /// <param name="progress">Told now and then which part of the run, 0..1, is done.</param>
    /// <returns>What was recorded: all of it, or as far as the run came when <see cref="TransientResult.Status"/> says so.</returns>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="OperationCanceledException">Cancelled before the start of the run was found.</exception>
    /// <exception cref="SolverException">The solver gave up, or the time limit ran out before the start of the run was found.</exception>
    public static TransientResult Run(CircuitSystem system, TransientOptions options, IReadOnlyList<Probe> probes, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(options);
        using var run = new TransientRun(system, options);
        if (options.Leaps && LeapingTransient.MayLeap(system, options))
        {
            return new LeapingTransient(system, options, probes, progress, run).Run();
        }

        var recorder = new Recorder(system, probes, options);
        recorder.Begin(run);
        recorder.Follow(run);
        for (var points = 1; !recorder.IsFull && run.Advance(); points++)
        {
            recorder.Record(run);
            if ((points & 255) == 0)
            {
                progress?.Invoke(run.Time / options.Stop);
            }
        }

        var status = run.Status == RunStatus.Running ? RunStatus.RecordFull : run.Status;
        return new TransientResult(probes, recorder.Samples, run.Evidence, run.Events, status);
    }
}
