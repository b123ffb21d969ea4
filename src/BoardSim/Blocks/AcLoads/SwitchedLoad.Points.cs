using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.AcLoads;

public sealed partial class SwitchedLoad
{
    private List<TestPoint> Points() =>
    [
        LoadPoints.Neutral("line", "line", "Line against neutral."),
        LoadPoints.Neutral("load", "load", "Element against neutral: the line's voltage while the relay is pulled in."),
        LoadPoints.Across("contact-drop", "line", "pin", "Across the contact: some tens of millivolts when closed, the line's voltage when open."),
        LoadPoints.Across("joint-drop", "pin", "load", "Across the solder joint: millivolts when sound."),
        new()
        {
            Name = "coil",
            Node = "coil-plus",
            ReferenceNode = "coil-minus",
            Reference = Reference.AcrossPart,
            Description = "Across the relay's coil.",
        },
        .. Drive == CoilDrive.Direct ? [] : new[]
        {
            Low("command", "command", "Processor's output."),
            Low("base", "base-coil", "Base of the transistor: 0.7 V while it is on."),
            Low("collector", "coil-minus", "Collector of the transistor: the rail while off, some tenths of a volt while on."),
        },
    ];

    private static IReadOnlyList<CurrentPoint> Clamps { get; } =
    [
        LoadPoints.Clamp("load", "R_element", "Current through the element."),
        new() { Name = "coil", Part = "K1", Description = "Current through the relay's coil." },
    ];

    private static IReadOnlyList<Readout> Temperatures { get; } =
    [
        new() { Name = "element-temperature", Node = "heat", ReferenceNode = Circuit.Ground, Unit = "degC", Description = "Temperature of the element.", Convert = volts => volts + 273.15 },
    ];

    private static TestPoint Low(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = "ground",
        Reference = Reference.BoardGround,
        Description = description,
    };

    private IReadOnlyList<StatePoint> StatePoints =>
    [
        LoadPoints.State("contact-closed", "K1", "made", "", "1 while the armature lets the contact touch."),
        LoadPoints.State("contact-temperature", "J_contact", "temperature", "degC", "Temperature of the contact: some kelvin above the air when healthy."),
        LoadPoints.State("joint-temperature", "J_joint", "temperature", "degC", "Temperature of the solder joint: a few kelvin above the air when sound; tin-lead solder melts at 183 degC."),
        LoadPoints.State("joint-open", "J_joint", "open", "", "1 while a crack in the joint stands open."),
        LoadPoints.State("joint-openings", "J_joint", "openings", "", "How often a crack has opened since power came on."),
        .. Arc == ContactArc.None ? [] : new[] { LoadPoints.State("contact-arcing", "S_contact", "arcing", "", "1 while an arc burns at the parted contact.") },
    ];
}
