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
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="SolverException">The solver gave up.</exception>
    public static TransientResult Run(CircuitSystem system, TransientOptions options, IReadOnlyList<Probe> probes, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(options);
        using var run = new TransientRun(system, options);
        var recorder = new Recorder(system, probes, options);
        recorder.Begin(run);
        for (var points = 1; run.Advance(); points++)
        {
            recorder.Record(run);
            if ((points & 255) == 0)
            {
                progress?.Invoke(run.Time / options.Stop);
            }
        }

        return new TransientResult(probes, recorder.Samples, run.Evidence, run.Events, run.Status);
    }
}
