using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Blocks;

/// <summary>Runs a board or a bare circuit with ideal probes on everything that is asked for.</summary>
internal sealed class Bench
{
    private readonly Dictionary<string, Waveform> waves;

    private Bench(Dictionary<string, Waveform> waves, TransientResult result) => (this.waves, Result) = (waves, result);

    public TransientResult Result { get; }

    /// <summary>Voltage at a test point of the board, against the point's own reference.</summary>
    public Waveform V(string point) => waves[$"V({point})"];

    /// <summary>Current at a current point of the board.</summary>
    public Waveform I(string point) => waves[$"I({point})"];

    /// <summary>A state of the board.</summary>
    public Waveform S(string state) => waves[$"S({state})"];

    /// <summary>Runs a board; where the line's hundreds of volts go up and down, a ripple of volts asks for more than the default accuracy.</summary>
    public static Bench Run(Board board, double? from = null, double? stop = null, double? accuracy = null)
    {
        var names = board.TestPoints.Select(p => ($"V({p.Name})", Unit.Volt, Probe.Voltage(p.Node, p.ReferenceNode)))
            .Concat(board.Currents.Select(c => ($"I({c.Name})", Unit.Ampere, Probe.Current(c.Part))))
            .Concat(board.States.Select(s => ($"S({s.Name})", Unit.Find(s.Unit)!, Probe.State(s.Part, s.State))))
            .ToList();
        return Run(board.Circuit, names, from ?? board.SettledFrom ?? 0, stop ?? board.SuggestedStop!.Value, accuracy ?? (board.LineFrequency is null ? 1e-3 : 1e-4), board.StartsAtRest);
    }

    /// <summary>Runs a bare circuit from initial conditions; nodes are probed against ground, parts by their current.</summary>
    public static Bench Run(Circuit circuit, string[] nodes, string[] parts, double from, double stop, double accuracy = 1e-5) => Run(
        circuit,
        [.. nodes.Select(n => ($"V({n})", Unit.Volt, Probe.Voltage(n))), .. parts.Select(p => ($"I({p})", Unit.Ampere, Probe.Current(p)))],
        from,
        stop,
        accuracy,
        true);

    private static Bench Run(
        Circuit circuit, List<(string Name, Unit Unit, Probe Probe)> probes, double from, double stop, double accuracy, bool atRest)
    {
        var options = new TransientOptions { Start = from, Stop = stop, Accuracy = accuracy, UseInitialConditions = atRest };
        var result = Transient.Run(new CircuitSystem(circuit), options, [.. probes.Select(p => p.Probe)]);
        var waves = new Dictionary<string, Waveform>();
        for (var k = 0; k < probes.Count; k++)
        {
            waves[probes[k].Name] = new Waveform(probes[k].Name, probes[k].Unit, result.Times, result.Values(k));
        }

        return new Bench(waves, result);
    }
}
