using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Regulators;

public sealed partial class Regulator5V
{
    private static List<TestPoint> Points() =>
    [
        Ground("input", "rail", "Rail at the regulator's input: its valleys have to stay above the output by the drop-out voltage."),
        Ground("output", "output", "Regulated supply: 5 V within a few per cent, a millivolt or less of ripple."),
        new()
        {
            Name = "headroom",
            Node = "rail",
            ReferenceNode = "output",
            Reference = Reference.AcrossPart,
            Description = "Across the regulator: what is left above drop-out, and the voltage that the load's current turns into heat.",
        },
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "input", Part = "R_in", Description = "Current out of the source." },
        new() { Name = "pass", Part = "U1", Description = "Current of the pass transistor into output and load." },
        new() { Name = "output-capacitor", Part = "C_out", Description = "Current into the output capacitor: what load steps take from it comes back." },
        new() { Name = "input-capacitor", Part = "C_in", Description = "Current into the input capacitor." },
    ];

    private static List<StatePoint> StatesOfTheRegulator() =>
    [
        new() { Name = "junction-temperature", Part = "U1", State = "temperature", Unit = "degC", Description = "Temperature of the junction: the air's plus loss times thermal resistance." },
        new() { Name = "case-temperature", Part = "U1", State = "case-temperature", Unit = "degC", Description = "Temperature of the case." },
        new() { Name = "shut-down", Part = "U1", State = "shut-down", Unit = "", Description = "1 while the thermal shutdown holds the regulator off, 0 in a healthy one." },
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
