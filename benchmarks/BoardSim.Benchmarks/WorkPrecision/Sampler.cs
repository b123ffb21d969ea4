using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>Reads chosen signals from a run at any instant of its last step.</summary>
internal sealed class Sampler(CircuitSystem system, OutputVariable[] variables)
{
    private readonly double[] state = new double[system.Size + 1];

    /// <summary>Values of the signals, by the run's own interpolation.</summary>
    public double[] At(TransientRun run, double time)
    {
        run.Interpolate(time, state);
        return [.. variables.Select(v => v.IsCurrent ? state[system.BranchIndex(v.First)] : Node(v.First) - (v.Second is { } n ? Node(n) : 0))];
    }

    private double Node(string name) => state[system.NodeIndex(name)];
}
