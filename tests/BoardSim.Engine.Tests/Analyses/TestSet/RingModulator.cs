using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Analyses.TestSet;

/// <summary>
/// Problem "ring modulator" of the Test Set for IVP Solvers (Horneber 1985; Lioen and de Swart, CWI 1998), whose small
/// capacitances ring at 5 MHz beside signals of 1 and 10 kHz.
/// </summary>
internal static class RingModulator
{
    /// <summary>End of the run in seconds.</summary>
    public const double Stop = 1e-3;

    /// <summary>Reference solution at t = 1 ms, voltages of nodes 1 to 7.</summary>
    public static readonly double[] Published =
    [
        -0.2339057358486745e-1, -0.7367485485540825e-2, 0.2582956709291169, -0.4064465721283450,
        -0.4039455665149794, 0.2607966765422943, 0.1106761861269975,
    ];

    /// <summary>The circuit, from rest.</summary>
    public static Circuit Make()
    {
        Device[] parts =
        [
            new VoltageSource("u1", "in1", "0", new SineWaveform { Amplitude = 0.5, Frequency = 1e3 }),
            new VoltageSource("u2", "in2", "0", new SineWaveform { Amplitude = 2, Frequency = 10e3 }),
            new Capacitor("c7", "7", "0", 1e-8) { InitialVoltage = 0 },
            new Resistor("rp", "7", "0", 50),

            // Outer windings: signal source with 50 ohm, load of 600 ohm, 36.3 ohm of copper each.
            new Inductor("l14", "in1", "1", 2e-3) { SeriesResistance = 50 + 36.3, InitialCurrent = 0 },
            new Inductor("l15", "0", "2", 2e-3) { SeriesResistance = 600 + 36.3, InitialCurrent = 0 },
        ];
        var circuit = new Circuit();
        foreach (var part in parts)
        {
            circuit.Add(part);
        }

        for (var side = 1; side <= 2; side++)
        {
            circuit.Add(new Capacitor($"c{side}", $"{side}", "0", 1.6e-8) { InitialVoltage = 0 });
            circuit.Add(new Resistor($"r{side}", $"{side}", "0", 25e3));
            circuit.Add(new Inductor($"lh{side}", "0", $"{side}", 4.45) { InitialCurrent = 0 });
        }

        Half(circuit, "1", "3");
        Half(circuit, "1", "4");
        Half(circuit, "2", "5");
        Half(circuit, "2", "6");

        // The test set's ring: which sum of voltages drives each diode, and where its current goes.
        circuit.Add(new SummingDiode("d1", ["3", "5", "7", "in2"], [1, -1, -1, -1]));
        circuit.Add(new SummingDiode("d2", ["4", "6", "7", "in2"], [-1, 1, -1, -1]));
        circuit.Add(new SummingDiode("d3", ["4", "5", "7", "in2"], [1, 1, 1, 1]));
        circuit.Add(new SummingDiode("d4", ["3", "6", "7", "in2"], [-1, -1, 1, 1]));
        return circuit;
    }

    /// <summary>Half a centre-tapped winding: half the outer voltage behind copper and leakage feeds a node of the ring.</summary>
    private static void Half(Circuit circuit, string outer, string inner)
    {
        circuit.Add(new VoltageControlledVoltageSource($"e{inner}", $"w{inner}", "0", outer, "0", 0.5));
        circuit.Add(new Inductor($"l{inner}", $"w{inner}", inner, 5e-4) { SeriesResistance = 17.3, InitialCurrent = 0 });
        circuit.Add(new CurrentControlledCurrentSource($"f{inner}", outer, "0", $"l{inner}", 0.5));
        circuit.Add(new Capacitor($"cs{inner}", inner, "0", 2e-12) { InitialVoltage = 0 });
    }

    /// <summary>Exponential law of a sum of node voltages with signs, whose current leaves each node with the same sign.</summary>
    private sealed class SummingDiode(string name, string[] nodes, double[] signs) : Device(name, nodes)
    {
        private const double Saturation = 40.67286402e-9;
        private const double Steepness = 17.7493332;
        private readonly int[] at = new int[nodes.Length];
        private readonly int[,] slot = new int[nodes.Length, nodes.Length];

        public override bool IsNonlinear => true;

        public override IReadOnlyList<int>? NonlinearUnknowns => at;

        public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(1, 2, LinkKind.Conductive)];

        public override void Bind(Binder binder)
        {
            for (var r = 0; r < at.Length; r++)
            {
                at[r] = binder.Node(Nodes[r]);
            }

            for (var r = 0; r < at.Length; r++)
            {
                for (var c = 0; c < at.Length; c++)
                {
                    slot[r, c] = binder.Slot(at[r], at[c]);
                }
            }
        }

        public override void Evaluate(Loads loads)
        {
            var u = 0.0;
            for (var k = 0; k < at.Length; k++)
            {
                u += signs[k] * loads.X[at[k]];
            }

            var e = Saturation * Math.Exp(Math.Min(Steepness * u, 60));
            for (var r = 0; r < at.Length; r++)
            {
                loads.F[at[r]] += signs[r] * (e - Saturation);
                for (var c = 0; c < at.Length; c++)
                {
                    loads.G[slot[r, c]] += signs[r] * signs[c] * Steepness * e;
                }
            }
        }
    }
}
