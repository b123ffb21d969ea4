using BoardSim.Benchmarks.Boards;
using BoardSim.Benchmarks.Circuits;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Netlists;
using BoardSim.Engine.Tests.Analyses.TestSet;
using BoardSim.Engine.Tests.Netlists;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>What the integration methods are compared on: circuits of boards, and published test circuits.</summary>
internal static class Problems
{
    /// <summary>Ten switching periods of a converter; each of its hundreds costs the same.</summary>
    private const double FirstPeriods = 154e-6;

    /// <summary>Circuits of boards.</summary>
    /// <param name="peers">Folder of circuits with the definitions of <c>metrics.txt</c>, which stand in for our own; null for our own.</param>
    public static IReadOnlyList<Problem> Boards(string? peers)
    {
        Problem resonance = new("resonance", "Damped resonance, 5 ms", BenchmarkCircuits.Read("resonance"));
        return peers is null
            ?
            [
                resonance,
                new("rectifier", "Line rectifier, 50 ms", BenchmarkCircuits.Read("rectifier")),
                new("relay-driver", "Relay driver, 60 ms", BenchmarkCircuits.Read("relay-driver")),
                new("flyback", "Flyback converter, 8 periods", BenchmarkCircuits.Read("flyback")),
            ]
            : [resonance, .. Board.ReadAll(peers).Where(b => b.Name != "transistor_amplifier").Select(Of)];
    }

    /// <summary>Published test circuits.</summary>
    public static IReadOnlyList<Problem> TestSet() =>
    [
        // Test Set for IVP Solvers (Lioen and de Swart 1998), transistor amplifier, reference solution at t = 0.2 s.
        new(
            "amplifier",
            "Transistor amplifier, 0.2 s, published end values",
            BenchmarkCircuits.Read("amplifier"),
            [
                -0.5562145012262709e-2, 0.3006522471903042e1, 0.2849958788608128e1, 0.2926422536206241e1,
                0.2704617865010554e1, 0.2761837778393145e1, 0.4770927631616772e1, 0.1236995868091548e1,
            ]),

        // Values of an independent Radau IIA solution for the symmetric device, to 1e-11 (see the engine's tests).
        new(
            "nand-gate",
            "NAND gate, 80 s, end values of a Radau IIA solution",
            NandGate.Make(1.748e-3),
            NandGate.Stop,
            true,
            Voltages("5", "10", "1", "6"),
            [4.970955751430, -0.203461452207, 4.971206403593, -0.203553880283]),
        new(
            "ring-modulator",
            "Ring modulator, 1 ms, published end values of the outer windings",
            RingModulator.Make(),
            RingModulator.Stop,
            true,
            Voltages("1", "2"),
            RingModulator.Published[..2]),
        new("two-bit-adder", "Two-bit adder of TTL gates, 1.6 us", TwoBitAdder()),
    ];

    /// <summary>A board's circuit, its signals those that are unknowns of it (the current of a resistor is none).</summary>
    private static Problem Of(Board board)
    {
        var stop = board.Name.Contains("flyback", StringComparison.Ordinal) ? Math.Min(board.Stop, FirstPeriods) : board.Stop;
        var signals = board.Metrics.Select(m => m.Signal).Distinct().Where(s => s[0] == 'v' || s[2] is 'l' or 'v').Select(Variable);
        return new(board.Name, $"{board.Name.Replace('_', ' ')}, {stop * 1e3:0.###} ms", board.Circuit, stop, board.StartsFromInitial, [.. signals]);
    }

    private static OutputVariable Variable(string signal) =>
        signal[2..^1].Split(',') is var names && signal[0] == 'i' ? new(true, names[0]) : new(false, names[0], names.ElementAtOrDefault(1));

    private static OutputVariable[] Voltages(params string[] nodes) => [.. nodes.Select(n => new OutputVariable(false, n))];

    /// <summary>Half of the four-bit adder of SPICE3's manual, its inputs counting up.</summary>
    private static Netlist TwoBitAdder() => NetlistReader.Read(
        $"""
        two-bit adder
        {Adder.Definitions}
        X1 1 2 3 4 9 10 0 16 99 TWOBIT
        VCC 99 0 DC 5
        VA0 1 0 PULSE(0 3 0 10n 10n 90n 200n)
        VB0 2 0 PULSE(0 3 0 10n 10n 190n 400n)
        VA1 3 0 PULSE(0 3 0 10n 10n 390n 800n)
        VB1 4 0 PULSE(0 3 0 10n 10n 790n 1600n)
        RC 16 0 1k
        RS0 9 0 1k
        RS1 10 0 1k
        .tran 2n 1600n
        .print tran V(9) V(10) V(16)
        .end
        """,
        "two-bit-adder");
}
