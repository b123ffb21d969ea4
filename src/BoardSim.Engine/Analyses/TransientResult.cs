namespace BoardSim.Engine.Analyses;

/// <summary>Recorded signals of a transient run. Straight lines between neighbouring samples keep the accuracy asked.</summary>
public sealed class TransientResult
{
    private readonly double[][] values;

    internal TransientResult(IReadOnlyList<Probe> probes, double[] times, double[][] values, SolverEvidence evidence, IReadOnlyList<CircuitEvent> events, RunStatus status)
    {
        Probes = probes;
        Times = times;
        this.values = values;
        Evidence = evidence;
        Events = events;
        Status = status;
    }

    /// <summary>What was recorded.</summary>
    public IReadOnlyList<Probe> Probes { get; }

    /// <summary>Instants in seconds, rising; around a jump two of them lie very close together.</summary>
    public double[] Times { get; }

    /// <summary>How the solver fared.</summary>
    public SolverEvidence Evidence { get; }

    /// <summary>Changes of discrete states.</summary>
    public IReadOnlyList<CircuitEvent> Events { get; }

    /// <summary>Whether the run reached its end, or what ended it.</summary>
    public RunStatus Status { get; }

    /// <summary>Samples of one probe, as many as <see cref="Times"/>.</summary>
    /// <param name="probe">Number of the probe, from 0.</param>
    public double[] Values(int probe) => values[probe];
}
