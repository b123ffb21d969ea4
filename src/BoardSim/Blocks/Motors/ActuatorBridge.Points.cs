using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Motors;

public sealed partial class ActuatorBridge
{
    private static List<TestPoint> Points() =>
    [
        Ground("rail", "rail", "Rail that feeds the bridge; dips by milliseconds where the motor starts."),
        Ground("control-a", "control-a", "Control A from the processor: high alone opens the vent."),
        Ground("control-b", "control-b", "Control B from the processor: high alone closes the vent."),
        Ground("out-a", "out-a", "Side A of the bridge: the rail or the ground less what a switch drops; floats with the back-EMF while coasting."),
        Ground("out-b", "out-b", "Side B of the bridge."),
        Ground("sense", "sense", "Shunt of the bridge: half a volt for an ampere, steady while the vent moves, more against the stop."),
        new()
        {
            Name = "motor",
            Node = "out-a",
            ReferenceNode = "out-b",
            Reference = Reference.AcrossPart,
            Description = "Across the motor: nearly the rail, its sign the direction; the back-EMF while it coasts.",
        },
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "motor", Part = "M1", Description = "Current through the motor: high at the start, low while the vent moves, high against the stop." },
        new() { Name = "rail", Part = "R_rail", Description = "Current out of the rail." },
        new() { Name = "rail-capacitor", Part = "C_rail", Description = "Current of the capacitor next to the bridge: it bears what the switches take in microseconds." },
        new() { Name = "a-high", Part = "S_a_high", Description = "Current through the switch from the rail to side A." },
        new() { Name = "a-low", Part = "S_a_low", Description = "Current through the switch from side A to the shunt." },
        new() { Name = "b-high", Part = "S_b_high", Description = "Current through the switch from the rail to side B." },
        new() { Name = "b-low", Part = "S_b_low", Description = "Current through the switch from side B to the shunt." },
        new() { Name = "shunt", Part = "R_sense", Description = "Current through the shunt." },
    ];

    private static List<StatePoint> StatesOfTheVent() =>
    [
        new() { Name = "motor-speed", Part = "M1", State = "speed", Unit = "rpm", Description = "Speed of the rotor: positive while the vent opens." },
        new() { Name = "motor-torque", Part = "M1", State = "torque", Unit = "Nm", Description = "Torque that the current makes at the rotor." },
        new() { Name = "vent-position", Part = "M1", State = "output-angle", Unit = "deg", Description = "Position of the vent: 0 deg closed." },
        new() { Name = "at-stop", Part = "M1", State = "at-stop", Unit = "", Description = "1 against the open stop, -1 against the closed one, 0 between." },
        new() { Name = "at-rest", Part = "M1", State = "at-rest", Unit = "", Description = "1 while friction holds the rotor." },
        new() { Name = "winding-temperature", Part = "M1", State = "temperature", Unit = "degC", Description = "Temperature of the winding: it climbs while the vent is driven against something that does not give." },
    ];

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Reference = Reference.BoardGround,
        Description = description,
    };
}
