using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Chambers;

/// <summary>
/// The chamber that a board keeps warm, as a thermal equivalent circuit: the voltage of a node is a temperature in degrees Celsius, a current is
/// heat in watts (1 V is 1 degC, 1 A is 1 W). Lumped capacities; source: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, chapter 5, from memory.
/// <code>
///            R_element             R_goods
///  heat o------/\/\------ air --+---/\/\--- goods
///                               |             |
///                               +--/\/\--+    |
///                       R_walls |        |  C_goods
///                               |  S_door|    |
///                       C_air ==+   +R_door  ===
///                               |        |    |
///                               |    room (V_room)
///                               |        |    |
///  zero o-----------------------+--------+----+
/// </code>
/// </summary>
public sealed partial class HeatedChamber : Block
{
    /// <inheritdoc/>
    public override string Id => "heated-chamber";

    /// <inheritdoc/>
    public override string Title => "Heated chamber with walls, door and goods";

    /// <inheritdoc/>
    public override string Summary =>
        "What the board keeps warm: air and lining with their heat capacity, goods that follow slowly, walls that lose heat to the room, and a door that is "
        + "opened. Closes the loop from the heater back to the sensor, so that a fault of either shows as a temperature.";

    /// <inheritdoc/>
    public override string Topology => """
                   R_element             R_goods
         heat o------/\/\------ air --+---/\/\--- goods
                                      |             |
                                      +--/\/\--+    |
                              R_walls |        |  C_goods
                                      |  S_door|    |
                              C_air ==+   +R_door  ===
                                      |        |    |
                                      |    room (V_room)
                                      |        |    |
         zero o-----------------------+--------+----+
         (1 V is 1 degC, 1 A is 1 W)
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Temperature of the room, in kelvin.</summary>
    [Quantity("room.temperature", "degC", 253.15, 333.15, "Temperature of the room that the chamber stands in.")]
    public double RoomTemperature { get; set; } = 295.15;

    /// <summary>Temperature of air and goods at the start, in kelvin; null for that of the room.</summary>
    [Quantity("start-temperature", "degC", 253.15, 373.15, "Temperature of air and goods at the start; the room's unless set.")]
    public double? StartTemperature { get; set; }

    /// <summary>Heat capacity of air and lining, in joules per kelvin.</summary>
    [Quantity("air.heat-capacity", "J/K", 1, 1e6, "Heat capacity of the air and the lining that follows it; some kilojoules per kelvin for a cabinet.")]
    public double AirCapacity { get; set; } = 2500;

    /// <summary>Heat capacity of the goods, in joules per kelvin.</summary>
    [Quantity("goods.heat-capacity", "J/K", 1, 1e7, "Heat capacity of the goods; dough takes some 2.8 kJ/K per kilogram.")]
    public double GoodsCapacity { get; set; } = 20e3;

    /// <summary>Thermal conductance between air and goods, in watts per kelvin.</summary>
    [Quantity("goods.conductance", "W/K", 1e-3, 1e3, "Heat that passes between air and goods per kelvin.")]
    public double GoodsConductance { get; set; } = 4;

    /// <summary>Thermal conductance of the walls, in watts per kelvin.</summary>
    [Quantity("walls.conductance", "W/K", 1e-3, 1e3, "Heat that the walls lose to the room per kelvin.")]
    public double WallConductance { get; set; } = 3;

    /// <summary>Thermal conductance between the heater's element and the air, in watts per kelvin.</summary>
    [Quantity("element.conductance", "W/K", 1e-3, 1e3, "Heat that passes from the heater's surface to the moving air per kelvin.")]
    public double ElementConductance { get; set; } = 3;

    /// <summary>Thermal conductance of the open door, in watts per kelvin.</summary>
    [Quantity("door.conductance", "W/K", 1e-3, 1e4, "Heat that the open door lets out per kelvin, beside the walls.")]
    public double DoorConductance { get; set; } = 40;

    /// <summary>Instant in seconds when the door is opened; null for never.</summary>
    [Quantity("door.open-at", "s", 1e-3, 1e6, "When the door is opened; never unless set.")]
    public double? DoorOpenAt { get; set; }

    /// <summary>Time in seconds that it stays open.</summary>
    [Quantity("door.open-for", "s", 1e-3, 1e6, "How long the door stays open.")]
    public double DoorOpenFor { get; set; } = 30;

    /// <summary>Heat that the bench gives, in watts.</summary>
    [Quantity("heater.power", "W", 0, 10e3, "Heat that the bench's heater gives from the start on.", OnBenchOnly = true)]
    public double HeaterPower { get; set; } = 60;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "heat", Node = "heat", Description = "Surface of the heater: its temperature, and the heat that it gives." },
        new() { Name = "air", Node = "air", Description = "Air of the chamber: what a sensor is exposed to.", IsOptional = true },
        new() { Name = "goods", Node = "goods", Description = "Goods in the chamber: what a sensor in the dough is exposed to.", IsOptional = true },
        new() { Name = "room", Node = "room", Description = "The room around the cabinet: what a sensor outside is exposed to.", IsOptional = true },
        new() { Name = "zero", Node = Circuit.Ground, Description = "Zero degrees Celsius of the thermal circuit." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["I_heater"];

    private double Start => Celsius(StartTemperature ?? RoomTemperature);

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_room", "room", Circuit.Ground, Celsius(RoomTemperature)));
        circuit.Add(new Resistor("R_element", "heat", "air", 1 / ElementConductance));
        circuit.Add(new Resistor("R_walls", "air", "room", 1 / WallConductance));
        circuit.Add(new Resistor("R_goods", "air", "goods", 1 / GoodsConductance));
        circuit.Add(new Capacitor("C_air", "air", Circuit.Ground, AirCapacity) { InitialVoltage = Start });
        circuit.Add(new Capacitor("C_goods", "goods", Circuit.Ground, GoodsCapacity) { InitialVoltage = Start });
        AddDoor(circuit);
        circuit.Add(new CurrentSource("I_heater", Circuit.Ground, "heat", HeaterPower));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = [],
            Currents = Heats(),
            Readouts = Temperatures(),
            SuggestedStop = 3600,
            StartsAtRest = true,
        };
    }

    private void AddDoor(Circuit circuit)
    {
        var door = new SwitchModel { OnResistance = 1e-6, OffResistance = 1e9, Threshold = 0.5, Hysteresis = 0.1 };
        if (DoorOpenAt is { } at)
        {
            const double edge = 0.1;
            double[] times = [0, at, at + edge, at + edge + DoorOpenFor, at + 2 * edge + DoorOpenFor];
            circuit.Add(new VoltageSource("V_hand", "hand", Circuit.Ground, new PiecewiseLinearWaveform(times, [0, 0, 1, 1, 0])));
            circuit.Add(new VoltageSwitch("S_door", "air", "opening", "hand", Circuit.Ground, door));
        }
        else
        {
            circuit.Add(new Resistor("S_door", "air", "opening", 1e9));
        }

        circuit.Add(new Resistor("R_door", "opening", "room", 1 / DoorConductance));
    }

    private static double Celsius(double kelvin) => kelvin - 273.15;
}
