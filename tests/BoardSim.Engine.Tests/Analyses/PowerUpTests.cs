using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// A small capacitor that charges in nanoseconds at the beginning of a run of seconds to hours, which a large one shares behind megohms. A source that charges a capacitor through any resistance gives it
/// <c>C V^2 (1 - e^(-t/RC))</c>, half of it as heat in the end (Tipler and Mosca, Physics for Scientists and Engineers, RC circuits; from memory); the two hardly see each other.
/// </summary>
public sealed class PowerUpTests
{
    // flyback-supply, seed 401, cases 9263 and 4107: an island on gigohms is noisy in a short step, and the step in was made longer for that, across the charging.
    [Fact]
    public void Charging_is_booked_on_an_island_that_hangs_on_gigohms()
    {
        var circuit = Supply(425.7, 100e-9, 1.226e6, 57e-6, 2.4e-9, 94e3);
        circuit.Add(new Resistor("barrier", "return", "0", 1e9));
        circuit.Add(new Resistor("opened", "return", "lead", 3.6e8));
        circuit.Add(new Capacitor("y", "lead", "0", 2.2e-9));
        Check(circuit, 1.66, 3.7e-4, 425.7, 100e-9, 1.226e6, 57e-6);
    }

    // flyback-supply, seed 401, case 8639: charged in a third of a nanosecond, which in a run of 1000 s is below what the power balance had a say in.
    [Fact]
    public void Charging_far_below_the_shortest_step_is_booked()
    {
        var circuit = Supply(338.3, 0.48e-9, 2.775e6, 11.7e-6, 25.7e-9, 6219);
        circuit.Add(new Resistor("barrier", "return", "0", 1e9));
        circuit.Add(new Capacitor("y", "return", "0", 2.2e-9));
        Check(circuit, 1000, 1.8e-3, 338.3, 0.48e-9, 2.775e6, 11.7e-6);
    }

    private static Circuit Supply(double volts, double small, double ohms, double large, double clamp, double bleeder) => Circuit(
        new VoltageSource("v", "source", "return", volts),
        new Resistor("wire", "source", "bulk", 0.5),
        new Capacitor("input", "bulk", "return", small) { SeriesResistance = 0.2 },
        new Resistor("start", "bulk", "vcc", ohms),
        new Capacitor("pin", "vcc", "return", large) { SeriesResistance = 0.05 },
        new Capacitor("clamp", "clamp", "bulk", clamp),
        new Resistor("bleeder", "clamp", "bulk", bleeder));

    private static void Check(Circuit circuit, double stop, double accuracy, double volts, double small, double ohms, double large)
    {
        var evidence = Run(circuit, new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true }).Evidence;
        Near(small * volts * volts + large * volts * volts * (1 - Math.Exp(-stop / (ohms * large))), evidence.SourceEnergy, 3 * accuracy);
        Assert.InRange(evidence.PowerBalance, 0, accuracy);
    }
}
