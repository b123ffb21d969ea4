using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>Runs a transient to its end and records chosen signals.</summary>
public static class Transient
{
    /// <summary>Share of the accuracy that drawing straight lines between samples may cost.</summary>
    private const double RecordingShare = 0.5;

    /// <summary>Runs and records.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <param name="probes">Signals to record.</param>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="SolverException">The solver gave up.</exception>
    public static TransientResult Run(CircuitSystem system, TransientOptions options, IReadOnlyList<Probe> probes)
    {
        ArgumentNullException.ThrowIfNull(options);
        using var run = new TransientRun(system, options);
        var recorder = new Recorder(system, probes, options.Start, options.Accuracy * RecordingShare);
        recorder.Begin(run);
        while (run.Advance())
        {
            recorder.Record(run);
        }

        return new TransientResult(probes, recorder.Times, recorder.Values, run.Evidence, run.Events, run.Status);
    }
}
