using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Chambers;

public sealed partial class HeatedChamber
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults { get; } =
    [
        new(static (board, conductance) => PartEdits.Add(board, new Resistor("R_gap", "air", "room", 1 / conductance)))
        {
            Id = "door-ajar",
            Title = "Door ajar",
            Mechanism = "A worn hinge or a hardened seal leaves a gap: the heater runs longer, or no longer reaches its temperature.",
            Part = "R_door",
            Severity = new SeverityDefinition { Unit = "W/K", Default = 5, Minimum = 0.01, Maximum = 1e4, Description = "Heat that the gap lets out per kelvin." },
        },
        new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_walls", r => r.Resistance /= factor))
        {
            Id = "insulation-wet",
            Title = "Insulation wet",
            Mechanism = "Steam has found its way through a seam: wet fibre conducts heat several times as well as dry.",
            Part = "R_walls",
            Severity = new SeverityDefinition { Unit = "", Default = 2.5, Minimum = 1, Maximum = 100, Description = "Conductance of the walls, as a multiple of the dry ones'." },
        },
        new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_element", r => r.Resistance /= factor))
        {
            Id = "air-not-moving",
            Title = "Air not moving",
            Mechanism = "The fan has stopped or its grille is caked with flour: the element gets hotter for the same heat.",
            Part = "R_element",
            Severity = new SeverityDefinition { Unit = "", Default = 0.25, Minimum = 0.01, Maximum = 1, Description = "Conductance from element to air that is left, as a share." },
        },
    ];
}
