using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Blocks;

/// <summary>Conducted noise of a line entry on the line impedance network of CISPR 16-1-2: 50 uH in parallel with 50 ohm in each conductor, fed with what a
/// converter pushes out.</summary>
internal static class LineNoise
{
    /// <summary>Volts across the receiver's 50 ohm for an ampere of noise current.</summary>
    public static double Level(Circuit bench, double hertz, bool commonMode)
    {
        var circuit = bench.Clone();

        // The network stands between outlet and board: what the building's wiring looks like has no say any more.
        circuit.Remove("R_cord");
        circuit.Remove("R_neutral");
        circuit.Remove("C_neighbours");
        Network(circuit, "line", "plug", "inlet");
        Network(circuit, "neutral", "bond", "neutral");
        circuit.Add(new Resistor("R_noise1", "noise-plus", "out", 1));
        circuit.Add(new Resistor("R_noise2", commonMode ? "noise-plus" : "noise-minus", "neutral-out", 1));
        circuit.Add(new CurrentSource("I_noise", commonMode ? "0" : "noise-minus", "noise-plus", 0) { SmallSignal = Complex.One });
        return AcAnalysis.Run(new CircuitSystem(circuit), [hertz], [Probe.Voltage("net-line")]).Values(0)[0].Magnitude;
    }

    /// <summary>Impedance in ohms that the network shows to the board.</summary>
    public static double Impedance(double hertz)
    {
        var circuit = new Circuit();
        Network(circuit, "line", "0", "board");
        circuit.Add(new CurrentSource("I1", "0", "board", 0) { SmallSignal = Complex.One });
        circuit.Add(new Resistor("R_far", "board", "0", 1e9));
        return AcAnalysis.Run(new CircuitSystem(circuit), [hertz], [Probe.Voltage("board")]).Values(0)[0].Magnitude;
    }

    private static void Network(Circuit circuit, string name, string from, string to)
    {
        circuit.Add(new Inductor($"L_net_{name}", from, to, 50e-6));

        // The receiver is coupled by a capacitor that is a short to noise and keeps the line away from it.
        circuit.Add(new Capacitor($"C_net_{name}", to, $"net-{name}", 10e-6));
        circuit.Add(new Resistor($"R_net_{name}", $"net-{name}", "0", 50));
    }
}
