using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;

namespace BoardSim.Benchmarks.Circuits;

/// <summary>A compiled circuit, ready to be run again and again.</summary>
internal sealed class TimedRun
{
    private readonly CircuitSystem system;
    private readonly TransientOptions options;
    private readonly Probe[] probes;

    /// <summary>Compiles a netlist whose first card is a transient.</summary>
    public TimedRun(Netlist netlist, double accuracy)
    {
        var card = (TransientCard)netlist.Analyses[0];
        system = new CircuitSystem(netlist.Circuit);
        options = new TransientOptions { Stop = card.Stop, UseInitialConditions = card.UseInitialConditions, Resolution = card.Step, Accuracy = accuracy };
        probes = [.. netlist.Prints.SelectMany(p => p.Variables).Select(ToProbe)];
    }

    /// <summary>Compiles a circuit.</summary>
    public TimedRun(Circuit circuit, double stop, params string[] nodes)
    {
        system = new CircuitSystem(circuit);
        options = new TransientOptions { Stop = stop };
        probes = [.. nodes.Select(n => Probe.Voltage(n))];
    }

    /// <summary>Runs from the start; the solver's counts come back so that nothing can be optimised away.</summary>
    public SolverEvidence Run() => Transient.Run(system, options, probes).Evidence;

    internal static Probe ToProbe(OutputVariable variable) =>
        variable.IsCurrent ? Probe.Current(variable.First) : Probe.Voltage(variable.First, variable.Second ?? Circuit.Ground);
}
