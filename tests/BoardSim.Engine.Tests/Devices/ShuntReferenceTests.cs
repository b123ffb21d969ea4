using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>A shunt reference at the ends of its law.</summary>
public sealed class ShuntReferenceTests
{
    // Driven far beyond its reference voltage it pulls its cathode down to about its least voltage, 2 V, as long as that takes no more than a part of what it can carry, 100 mA (data
    // sheets of such parts; from memory): here 2 to 20 mA. The run begins with nothing known, and the capacitor drives the input from the first instant.
    [Theory]
    [InlineData(2000)]
    [InlineData(900)]
    [InlineData(10e3)]
    public void Overdriven_it_pulls_its_cathode_to_its_least_voltage(double ohms)
    {
        var circuit = Bench.Circuit(
            new VoltageSource("V1", "in", "0", 20),
            new Resistor("R1", "in", "r", 100),
            new Capacitor("C1", "in", "r", 50e-9),
            new Resistor("R2", "in", "k", ohms),
            new ShuntReference("U1", "r", "0", "k", 2.5));
        var run = Bench.Run(circuit, new TransientOptions { Stop = 1e-6, UseInitialConditions = true }, Probe.Voltage("k"));
        Assert.InRange(run.Values(0)[^1], 1.4, 2.4);
    }
}
