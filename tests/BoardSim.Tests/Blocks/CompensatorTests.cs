using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Blocks;

/// <summary>A text-book compensator, worked through by the AC analysis.</summary>
public class CompensatorTests
{
    private const double SourceVolts = 28;
    private const double RampVolts = 4;

    // R. W. Erickson and D. Maksimovic, Fundamentals of Power Electronics, 2nd edition, section 9.5.4 (from memory): buck converter, 28 V to 15 V, 50 uH, 500 uF, 3 ohm,
    // sensed by a third, ramp of 4 V. Without a compensator the loop has 7.4 dB at direct current, crosses over at 1.8 kHz and has a phase margin of less than 5 degrees.
    [Fact]
    public void Loop_of_the_buck_converter_without_compensator()
    {
        var (frequencies, gain) = Loop(lead: false);
        Assert.Equal(7.4, 20 * Math.Log10(gain[0].Magnitude), 0.1);
        var at = Crossing(gain);
        Near.Relative(1.8e3, frequencies[at], 0.03);
        Assert.InRange(Margin(gain[at]), 0, 5);
    }

    // The same example: a lead compensator with a gain of 3.7, its zero at 1.7 kHz and its pole at 14.5 kHz brings the crossover to 5 kHz with 52 degrees. The book reckons with
    // asymptotes: five times the resonance it takes the filter for 1/25 where it is 1/24, and 3.67 is rounded to 3.7. Together they are 5 % of gain, which at
    // a slope of one put the crossover 5 % higher.
    [Fact]
    public void Lead_compensator_of_the_example_gives_its_crossover_and_margin()
    {
        var (frequencies, gain) = Loop(lead: true);
        var at = Crossing(gain);
        Near.Relative(1.05 * 5e3, frequencies[at], 0.02);
        Near.Absolute(52, Margin(gain[at]), 3);
    }

    private static (double[] Frequencies, Complex[] Gain) Loop(bool lead)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V_control", "control", "0", 0) { SmallSignal = Complex.One });
        circuit.Add(new VoltageControlledVoltageSource("E_switch", "switch", "0", "control", "0", SourceVolts / RampVolts));
        circuit.Add(new Inductor("L1", "switch", "out", 50e-6));
        circuit.Add(new Capacitor("C1", "out", "0", 500e-6));
        circuit.Add(new Resistor("R1", "out", "0", 3));
        circuit.Add(new VoltageControlledVoltageSource("E_sense", "sense", "0", "out", "0", 1.0 / 3));

        // Lead network: R || C, then a resistor to ground; zero at 1 / (2 pi R C), pole at zero (R + R') / R'.
        const double zero = 1.7e3;
        const double pole = 14.5e3;
        const double series = 10e3;
        circuit.Add(new Resistor("R_lead", "sense", "lead", series));
        circuit.Add(new Capacitor("C_lead", "sense", "lead", 1 / (2 * Math.PI * zero * series)));
        circuit.Add(new Resistor("R_low", "lead", "0", series / (pole / zero - 1)));
        circuit.Add(new VoltageControlledVoltageSource("E_gain", "compensated", "0", "lead", "0", 3.7 * pole / zero));
        circuit.Add(new Resistor("R_end", "compensated", "0", 1e3));
        double[] frequencies = [.. Enumerable.Range(0, 801).Select(k => 10 * Math.Pow(10, k / 200.0))];
        return (frequencies, [.. AcAnalysis.Run(new CircuitSystem(circuit), frequencies, [Probe.Voltage(lead ? "compensated" : "sense")]).Values(0)]);
    }

    private static int Crossing(Complex[] gain) =>
        Assert.Single(Enumerable.Range(1, gain.Length - 1), k => gain[k - 1].Magnitude > 1 && gain[k].Magnitude <= 1);

    private static double Margin(Complex gain) => 180 + gain.Phase * 180 / Math.PI;
}
