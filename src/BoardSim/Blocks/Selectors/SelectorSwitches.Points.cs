using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Selectors;

public sealed partial class SelectorSwitches
{
    private static List<TestPoint> Points() =>
    [
        Ground("supply", "supply", "Supply of processor and pull-ups."),
        .. Enumerable.Range(0, Lines).Select(k => Ground($"line{k}", $"board{k}", $"Line {k} on the board: near 0.7 V while a switch is read whose contact {k} is closed, at the supply otherwise.")),
        Ground("enable1", "enable1", "Enable of the first switch: low while it is read, high otherwise."),
        Ground("enable2", "enable2", "Enable of the second switch: low while it is read, high otherwise."),
        Ground("common1", "common1", "Common contact of the first switch: follows its enable."),
        Ground("common2", "common2", "Common contact of the second switch: follows its enable."),
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "enable1", Part = "R_enable1", Description = "Current out of the first enable; negative while it takes the pull-ups' current." },
        new() { Name = "enable2", Part = "R_enable2", Description = "Current out of the second enable; negative while it takes the pull-ups' current." },
    ];

    private static List<StatePoint> Positions() =>
    [
        State("U1", "position-1", "position-1", "Position that the program takes the first switch for."),
        State("U1", "position-2", "position-2", "Position that the program takes the second switch for."),
        State("S1", "position", "true-position-1", "Detent that the first switch rests in."),
        State("S2", "position", "true-position-2", "Detent that the second switch rests in."),
        State("U1", "code-1", "code-1", "Contacts of the first switch as they were read last, contact 0 as 1, contact 3 as 8."),
        State("U1", "code-2", "code-2", "Contacts of the second switch as they were read last."),
        State("U1", "scans", "scans", "Number of times that both switches have been read."),
    ];

    private static StatePoint State(string part, string state, string name, string description) =>
        new() { Name = name, Part = part, State = state, Unit = "", Description = description };

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Reference = Reference.BoardGround,
        Description = description,
    };
}
