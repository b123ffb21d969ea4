using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>What thermal equivalent circuits leave in the book of energy: nothing.</summary>
public sealed class HeatBookTests
{
    // Joule's law: 100 V across 10 ohm for 10 ms are 10 J, whatever becomes of the heat. The room, a source of 25 in the thermal equivalent circuit, delivers kelvins times watts, which are no joules.
    [Fact]
    public void Heat_given_to_a_room_is_no_energy_of_a_source()
    {
        var circuit = Circuit(
            new VoltageSource("v", "a", "0", 100),
            new HeatingElement("element", "a", "0", "hot", 10) { Coefficient = 0, HeatCapacity = 50 },
            new Resistor("r_loss", "hot", "room", 0.5),
            new VoltageSource("v_room", "room", "0", 25));
        var evidence = Run(circuit, new TransientOptions { Stop = 10e-3, Accuracy = 1e-4 }).Evidence;
        Near(10, evidence.SourceEnergy, 1e-6);
        Assert.InRange(evidence.PowerBalance, 0, 1e-6);
    }

    // The same at rest: the balance is one of watts alone, and an ambient that hangs on a gigaohm, at 1e12 degrees, does not put its rounding into it.
    [Fact]
    public void Balance_at_rest_is_of_watts_alone()
    {
        var solution = Solve(
            new VoltageSource("v", "a", "0", 100),
            new HeatingElement("element", "a", "0", "hot", 10) { Coefficient = 0 },
            new Resistor("r_loss", "hot", "room", 1e9),
            new VoltageSource("v_room", "room", "0", 25));
        Near(1e12, solution.Voltage("hot"), 1e-9);
        Assert.InRange(solution.Evidence.PowerBalance, 0, 1e-12);
    }
}
