using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Analyses.TestSet;

/// <summary>Problem "NAND gate" of the Test Set for IVP Solvers (Gunther and Rentrop, 1996; Lioen and de Swart, CWI 1998).</summary>
internal static class NandGate
{
    /// <summary>End of the run in seconds.</summary>
    public const double Stop = 80;

    /// <summary>The circuit with the start values of the test set.</summary>
    /// <param name="reverse">Conductance parameter of the two lower transistors in reverse, in A/V2.</param>
    public static Circuit Make(double reverse)
    {
        Device[] parts =
        [
            new VoltageSource("vdd", "dd", "0", 5),
            new VoltageSource("vbb", "bb", "0", -2.5),
            new VoltageSource("v1", "g1", "0", new PulseWaveform { High = 5, Delay = 5, Rise = 5, Width = 5, Fall = 5, Period = 20 }),
            new VoltageSource("v2", "g2", "0", new PulseWaveform { High = 5, Delay = 15, Rise = 5, Width = 15, Fall = 5, Period = 40 }),
            new Capacitor("c5", "5", "0", 0.5e-4),
            new Capacitor("c10", "10", "0", 0.5e-4),
        ];
        var circuit = new Circuit();
        foreach (var part in parts)
        {
            circuit.Add(part);
        }

        Transistor(circuit, "load", "5", "dd", "5", ["1", "2", "3", "4"], new(-2.43, 0.2, 1.28, 5.35e-4, 5.35e-4));
        Transistor(circuit, "upper", "g1", "5", "10", ["6", "7", "8", "9"], new(0.2, 0.035, 1.01, 1.748e-3, reverse));
        Transistor(circuit, "lower", "g2", "10", "0", ["11", "12", "13", "14"], new(0.2, 0.035, 1.01, 1.748e-3, reverse));
        double[] start = [5, 5, -2.5, -2.5, 5, 3.62385, 5, -2.5, -2.5, 3.62385, 0, 3.62385, -2.5, -2.5];
        for (var k = 0; k < start.Length; k++)
        {
            circuit.InitialVoltages[$"{k + 1}"] = start[k];
        }

        foreach (var (node, volts) in new[] { ("dd", 5.0), ("bb", -2.5) })
        {
            circuit.InitialVoltages[node] = volts;
        }

        return circuit;
    }

    /// <summary>The test set's transistor: resistors to inner source, drain and the two bulk nodes, capacitances, junctions, channel.</summary>
    private static void Transistor(Circuit circuit, string name, string gate, string drain, string source, string[] inner, TestChannel.Model model)
    {
        var (s, d, bs, bd) = (inner[0], inner[1], inner[2], inner[3]);
        circuit.Add(new Resistor($"{name}_rgs", s, source, 4));
        circuit.Add(new Resistor($"{name}_rgd", d, drain, 4));
        circuit.Add(new Resistor($"{name}_rbs", bs, "bb", 10));
        circuit.Add(new Resistor($"{name}_rbd", bd, "bb", 10));
        circuit.Add(new Capacitor($"{name}_cgs", gate, s, 0.6e-4));
        circuit.Add(new Capacitor($"{name}_cgd", gate, d, 0.6e-4));
        circuit.Add(new TestJunction($"{name}_jbs", bs, source));
        circuit.Add(new TestJunction($"{name}_jbd", bd, drain));
        circuit.Add(new TestChannel($"{name}_ids", d, s, gate, bs, source, bd, drain, model));
    }
}
