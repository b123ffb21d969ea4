using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Blocks;

/// <summary>What data sheets say of electrolytic capacitors, at the terminals of the part.</summary>
public class ElectrolyticTests
{
    // tan d = 2 pi f C ESR (a maker's product guide, p. 9): 1000 uF with 0.14 at 120 Hz has 0.1857 ohm, 470 uF with 0.12 has 0.3386 ohm.
    [Theory]
    [InlineData(1000e-6, 0.1857, 0.14)]
    [InlineData(470e-6, 0.3386, 0.12)]
    public void Loss_tangent_at_the_terminals_is_that_of_the_data_sheet(double farads, double ohms, double tangent)
    {
        var impedance = Impedance(farads, ohms, null, 120);
        Near.Relative(tangent, impedance.Real / -impedance.Imaginary, 0.001);
    }

    // |Z| = sqrt(ESR^2 + (XL - XC)^2) (makers' notes on electrolytic capacitors): 100 uF, 0.1 ohm, 20 nH at 100 kHz: XL = 12.566 mohm,
    // XC = 15.915 mohm, so 0.10006 ohm.
    [Fact]
    public void Impedance_near_resonance_is_the_series_resistance() =>
        Near.Relative(0.10006, Impedance(100e-6, 0.1, 20e-9, 100e3).Magnitude, 0.001);

    private static System.Numerics.Complex Impedance(double farads, double ohms, double? henries, double frequency)
    {
        var circuit = new Circuit();
        circuit.Add(new CurrentSource("I1", "0", "a") { SmallSignal = 1 });
        circuit.Add(new Resistor("R_bias", "a", "0", 1e9));
        var node = "a";
        if (henries is { } inductance)
        {
            circuit.Add(new Inductor("L1", "a", "b", inductance));
            node = "b";
        }

        circuit.Add(new Capacitor("C1", node, "0", farads) { SeriesResistance = ohms });
        return AcAnalysis.Run(new CircuitSystem(circuit), [frequency], [Probe.Voltage("a")]).Values(0)[0];
    }
}
