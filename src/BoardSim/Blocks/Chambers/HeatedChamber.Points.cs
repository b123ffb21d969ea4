using BoardSim.Boards;
using BoardSim.Engine.Circuits;

namespace BoardSim.Blocks.Chambers;

public sealed partial class HeatedChamber
{
    private static List<Readout> Temperatures() =>
    [
        Temperature("air-temperature", "air", "Temperature of the chamber's air."),
        Temperature("goods-temperature", "goods", "Temperature of the goods."),
        Temperature("heater-temperature", "heat", "Temperature of the heater's surface."),
    ];

    private static List<CurrentPoint> Heats() =>
    [
        new() { Name = "heat-in", Part = "R_element", Description = "Heat from the heater into the air: an ampere here is a watt." },
        new() { Name = "heat-lost", Part = "R_walls", Description = "Heat through the walls: an ampere here is a watt." },
        new() { Name = "heat-through-door", Part = "R_door", Description = "Heat through the door: an ampere here is a watt." },
    ];

    private static Readout Temperature(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Unit = "degC",
        Description = description,
        Convert = volts => volts + 273.15,
    };
}
