using BoardSim.Blocks.Chambers;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Blocks;

/// <summary>Lumped capacities against their closed forms (Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, section 5.1 and 5.3, from memory).</summary>
public class HeatedChamberTests
{
    // Next to no goods: one capacity behind one conductance.
    private static HeatedChamber Empty() => new() { GoodsCapacity = 1, GoodsConductance = 1e-3, AirCapacity = 3000, WallConductance = 2, HeaterPower = 50, RoomTemperature = 293.15 };

    private static (double[] Times, double[] Air) Run(Board board, double stop)
    {
        var air = board.Readout("air-temperature");
        var run = Transient.Run(new CircuitSystem(board.Circuit), new TransientOptions { Stop = stop, Accuracy = 1e-5, UseInitialConditions = true }, [Probe.Voltage(air.Node, air.ReferenceNode)]);
        return (run.Times.ToArray(), run.Values(0).ToArray());
    }

    [Fact]
    public void Air_rises_to_power_over_conductance_with_the_lumped_time_constant()
    {
        // theta = P / G (1 - exp(-t G / C)): 25 K in the end, 63.2 % of it after 1500 s.
        var (_, end) = Run(Empty().Build(), 1500);
        Assert.Equal(20 + 25 * (1 - Math.Exp(-1)), end[^1], 0.02);
        Assert.Equal(45, Run(Empty().Build(), 20_000).Air[^1], 0.02);
    }

    [Fact]
    public void Two_conductances_side_by_side_add_up()
    {
        // 50 W over (2 + 3) W/K is 10 K.
        var block = Empty();
        Assert.Equal(30, Run(block.Fault("door-ajar").Apply(block.Build(), 3), 20_000).Air[^1], 0.02);
        Assert.Equal(20 + 50 / 5.0, Run(block.Fault("insulation-wet").Apply(block.Build(), 2.5), 20_000).Air[^1], 0.02);
    }

    [Fact]
    public void An_element_in_still_air_gets_hotter_by_its_heat_over_what_is_left()
    {
        var block = Empty();
        block.ElementConductance = 4;
        var board = block.Fault("air-not-moving").Apply(block.Build(), 0.5);

        // At rest: the air 25 K above the room, the element 50 W / 2 W/K above the air.
        Assert.Equal(20 + 25 + 25, OperatingPoint.Solve(new CircuitSystem(board.Circuit)).Voltage(board.Readout("heater-temperature").Node), 1e-3);
    }

    [Fact]
    public void An_open_door_pulls_the_air_to_the_room_with_both_conductances()
    {
        var block = Empty();
        (block.StartTemperature, block.HeaterPower) = (313.15, 0);
        (block.DoorOpenAt, block.DoorOpenFor, block.DoorConductance) = (0.001, 1000, 28);

        // 20 K fall by exp(-t (2 + 28) / 3000): to a factor of e after 100 s.
        Assert.Equal(20 + 20 * Math.Exp(-1), Run(block.Build(), 100).Air[^1], 0.05);
    }
}
