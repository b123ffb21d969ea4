using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>One solved point: voltages and currents of a circuit at direct current.</summary>
public sealed class Solution
{
    private readonly CircuitSystem system;

    internal Solution(CircuitSystem system, double[] x, SolverEvidence evidence)
    {
        this.system = system;
        X = x;
        Evidence = evidence;
    }

    /// <summary>The unknowns by index, element 0 is the ground.</summary>
    public double[] X { get; }

    /// <summary>How the solution was found and how well it holds.</summary>
    public SolverEvidence Evidence { get; }

    /// <summary>Voltage in volts of a node against the ground or another node.</summary>
    /// <param name="node">Name of the node.</param>
    /// <param name="reference">Name of the other node.</param>
    public double Voltage(string node, string reference = Circuit.Ground) =>
        X[system.NodeIndex(node)] - X[system.NodeIndex(reference)];

    /// <summary>Current in amperes through a part, into its first terminal.</summary>
    /// <param name="device">Name of the part.</param>
    /// <exception cref="InvalidOperationException">The part's current does not follow from the unknowns.</exception>
    public double Current(string device) => Probe.Current(device).Bind(system).Value(0, X);

    /// <summary>A state of a part, in the part's own unit.</summary>
    /// <param name="device">Name of the part.</param>
    /// <param name="state">Name of the state, for example <c>temperature</c>.</param>
    public double State(string device, string state) => Probe.State(device, state).Bind(system).Value(0, X);

    /// <summary>Value of a named unknown, such as a part's temperature.</summary>
    /// <param name="unknown">Name, for example <c>RT1#temperature</c>.</param>
    public double Unknown(string unknown) => Probe.Unknown(unknown).Bind(system).Value(0, X);
}
