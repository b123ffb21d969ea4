using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Motors;

public sealed partial class FanDrive
{
    private static List<TestPoint> Points() =>
    [
        Ground("rail", "rail", "Rail that feeds the fan."),
        Ground("logic", "logic", "Logic supply."),
        Ground("pwm", "pwm", "Pulses from the port: 5 V, their width sets the speed."),
        Ground("level", "level", "Collector of the level shifter: low while the fan is switched on, at the rail otherwise."),
        Ground("switched", "switched", "Behind the buffer: the rail while on, the fan's voltage while off."),
        Ground("fan", "motor", "At the fan: a mean with some ripple, the higher the faster."),
        Ground("tacho", "tacho", "Tachometer: pulses between nearly zero and the logic supply, two for each turn; stuck at either when the fan stands."),
        new()
        {
            Name = "series-resistor",
            Node = "switched",
            ReferenceNode = "motor",
            Reference = Reference.AcrossPart,
            Description = "Across the series resistor: its current by Ohm's law, and its heat.",
        },
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "rail", Part = "R_rail", Description = "Current out of the rail, in pulses." },
        new() { Name = "series-resistor", Part = "R_series", Description = "Current through the series resistor, in pulses." },
        new() { Name = "motor", Part = "M1", Description = "Current through the fan: steady but for a ripple." },
        new() { Name = "fan-capacitor", Part = "C_fan", Description = "Current of the capacitor across the fan." },
    ];

    private static List<StatePoint> StatesOfTheFan() =>
    [
        new() { Name = "fan-speed", Part = "M1", State = "speed", Unit = "rpm", Description = "Speed of the fan." },
        new() { Name = "fan-torque", Part = "M1", State = "torque", Unit = "Nm", Description = "Torque that the current makes: its ripple is what the fan's frame hears." },
        new() { Name = "fan-stands", Part = "M1", State = "at-rest", Unit = "", Description = "1 while friction holds the rotor." },
        new() { Name = "tacho-pulses", Part = "T1", State = "pulse-count", Unit = "", Description = "Pulses of the tachometer since the start." },
    ];

    private static List<StatePoint> StatesOfTheLoop() =>
    [
        new() { Name = "duty", Part = "U_speed", State = "duty", Unit = "", Description = "Duty factor that the controller has set." },
        new() { Name = "measured-speed", Part = "U_speed", State = "measured-speed", Unit = "rpm", Description = "Speed that the controller makes of the tachometer's pulses." },
        new() { Name = "stalls", Part = "U_speed", State = "stalls", Unit = "", Description = "How often the controller has taken the fan for stalled and turned it off." },
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
