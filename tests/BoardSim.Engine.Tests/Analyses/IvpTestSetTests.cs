using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Tests.Analyses.TestSet;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// Circuits of the Test Set for IVP Solvers (Lioen and de Swart, CWI 1998; Mazzia and Magherini, University of Bari, release
/// 2.4, 2008) with its reference solutions at the end of the interval.
/// </summary>
public sealed class IvpTestSetTests
{
    // Problem "transistor amplifier" (Rentrop, Roche and Steinebach, 1989), t = 0.2 s. Its transistor has
    // Ie = 1e-6 A (exp(Vbe / 0.026 V) - 1) and Ic = 0.99 Ie; a huge reverse current gain leaves the collector junction out, and
    // the emission coefficient makes N k T / q = 0.026 V at 300.15 K (k / q = 8.617333262e-5 V/K, CODATA 2018).
    [Theory]
    [InlineData(1e-2, 2e-3)]
    [InlineData(1e-4, 1e-4)]
    [InlineData(1e-6, 1e-6)]
    [InlineData(1e-7, 1e-7)]
    public void Transistor_amplifier(double accuracy, double tolerance)
    {
        double[] published =
        [
            -0.5562145012262709e-2, 0.3006522471903042e1, 0.2849958788608128e1, 0.2926422536206241e1,
            0.2704617865010554e1, 0.2761837778393145e1, 0.4770927631616772e1, 0.1236995868091548e1,
        ];
        var model = new BipolarModel
        {
            SaturationCurrent = 0.99e-6,
            ForwardBeta = 99,
            ForwardEmission = 0.026 / (8.617333262e-5 * 300.15),
            ReverseBeta = 1e9,
            ReverseEmission = 1e9,
        };
        var circuit = Circuit(
            new VoltageSource("ve", "e", "0", new SineWaveform { Amplitude = 0.1, Frequency = 100 }),
            new VoltageSource("vb", "b", "0", 6),
            new Resistor("r0", "e", "1", 1e3),
            new Capacitor("c1", "1", "2", 1e-6) { InitialVoltage = -3 },
            new Resistor("r1", "2", "0", 9e3),
            new Resistor("r2", "2", "b", 9e3),
            new BipolarTransistor("q1", "4", "2", "3", model),
            new Resistor("r3", "3", "0", 9e3),
            new Capacitor("c2", "3", "0", 2e-6) { InitialVoltage = 3 },
            new Resistor("r4", "4", "b", 9e3),
            new Capacitor("c3", "4", "5", 3e-6) { InitialVoltage = 3 },
            new Resistor("r5", "5", "0", 9e3),
            new Resistor("r6", "5", "b", 9e3),
            new BipolarTransistor("q2", "7", "5", "6", model),
            new Resistor("r7", "6", "0", 9e3),
            new Capacitor("c4", "6", "0", 4e-6) { InitialVoltage = 3 },
            new Resistor("r8", "7", "b", 9e3),
            new Capacitor("c5", "7", "8", 5e-6) { InitialVoltage = 6 },
            new Resistor("r9", "8", "0", 9e3));
        AssertEnd(circuit, 0.2, accuracy, tolerance, [.. published.Select((v, k) => ($"{k + 1}", v))]);
    }

    // Problem "van der Pol equation", mu = 1000, t = 2000 s, as his triode circuit: 1 F, 1 H and a conductor of
    // mu (v^3 / 3 - v). Differentiating the node's balance gives v'' = mu (1 - v^2) v' - v; v' = 0 at first makes the
    // inductor's current 2 mu / 3 downwards. The end current follows from the published v and v' by the same balance.
    [Theory]
    [InlineData(1e-3, 1e-3)]
    [InlineData(1e-5, 1e-5)]
    [InlineData(1e-7, 1e-7)]
    public void Van_der_pol_oscillator(double accuracy, double tolerance)
    {
        const double mu = 1000;
        const double end = 1.706167732170469;
        const double rate = -0.8928097010248125e-3;
        var circuit = Circuit(
            new Capacitor("c", "a", "0", 1) { InitialVoltage = 2 },
            new Inductor("l", "a", "0", 1) { InitialCurrent = -mu * (8.0 / 3 - 2) },
            new Conductor("g", "a", "0", v => (mu * (v * v * v / 3 - v), mu * (v * v - 1))));
        var result = Run(circuit, new TransientOptions { Stop = 2000, Accuracy = accuracy, UseInitialConditions = true }, Probe.Voltage("a"), Probe.Current("l"));
        Assert.Equal(end, result.Values(0)[^1], tolerance);
        Assert.Equal(-rate - mu * (end * end * end / 3 - end), result.Values(1)[^1], mu * tolerance);
    }

    // Problem "NAND gate" (Gunther and Rentrop, 1996), t = 80 s. Published are values for a conductance parameter that is ten
    // times smaller in reverse (a slip of the test set's code, which its end values need). For the symmetric device the values
    // are those of an independent Radau IIA solution, to 1e-11.
    [Theory]
    [InlineData(1.748e-4, 1e-3, 2e-3, 4.970837023296724, -0.2090289583878100, 4.971088699385777, -0.2091214032073855)]
    [InlineData(1.748e-4, 1e-5, 2e-5, 4.970837023296724, -0.2090289583878100, 4.971088699385777, -0.2091214032073855)]
    [InlineData(1.748e-3, 1e-5, 2e-5, 4.970955751430, -0.203461452207, 4.971206403593, -0.203553880283)]
    public void Nand_gate(double reverse, double accuracy, double tolerance, double y5, double y10, double y1, double y6)
    {
        AssertEnd(NandGate.Make(reverse), NandGate.Stop, accuracy, tolerance, ("5", y5), ("10", y10), ("1", y1), ("6", y6), ("4", -2.5), ("11", -0.24e-3));
    }

    private static void AssertEnd(Circuit circuit, double stop, double accuracy, double tolerance, params (string Node, double Volts)[] expected)
    {
        var result = Run(
            circuit,
            new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true },
            [.. expected.Select(e => Probe.Voltage(e.Node))]);
        for (var p = 0; p < expected.Length; p++)
        {
            Assert.True(
                Math.Abs(result.Values(p)[^1] - expected[p].Volts) <= tolerance,
                $"V({expected[p].Node}) is {result.Values(p)[^1]:g12}, published {expected[p].Volts:g12}: {(result.Values(p)[^1] - expected[p].Volts) / accuracy:g3} x accuracy; {result.Evidence}");
        }
    }
}
