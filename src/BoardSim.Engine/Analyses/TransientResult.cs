namespace BoardSim.Engine.Analyses;

/// <summary>Recorded signals of a transient run. Straight lines between neighbouring samples keep the accuracy asked.</summary>
public sealed class TransientResult
{
    private readonly SampleStore samples;
    private readonly double[]?[] columns;

    internal TransientResult(IReadOnlyList<Probe> probes, SampleStore samples, SolverEvidence evidence, IReadOnlyList<CircuitEvent> events, RunStatus status)
    {
        Probes = probes;
        this.samples = samples;
        columns = new double[]?[probes.Count + 1];
        Evidence = evidence;
        Events = events;
        Status = status;
    }

    /// <summary>What was recorded.</summary>
    public IReadOnlyList<Probe> Probes { get; }

    /// <summary>Instants in seconds, rising; around a jump two of them lie very close together.</summary>
    public double[] Times => Column(0);

    /// <summary>How the solver fared.</summary>
    public SolverEvidence Evidence { get; }

    /// <summary>Changes of discrete states.</summary>
    public IReadOnlyList<CircuitEvent> Events { get; }

    /// <summary>Whether the run reached its end, or what ended it.</summary>
    public RunStatus Status { get; }

    /// <summary>Samples of one probe, as many as <see cref="Times"/>.</summary>
    /// <param name="probe">Number of the probe, from 0.</param>
    public double[] Values(int probe)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(probe);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(probe, Probes.Count);
        return Column(probe + 1);
    }

    private double[] Column(int column) => columns[column] ??= samples.Column(column);
}
