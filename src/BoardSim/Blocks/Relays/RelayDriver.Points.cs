using BoardSim.Boards;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Relays;

public sealed partial class RelayDriver
{
    private List<TestPoint> Points()
    {
        List<TestPoint> points =
        [
            Ground("port", "port", "Processor's port: the command."),
            Ground("rail", "rail", "Rail that feeds the coil."),
            Ground("contact", "contact", "Load behind the contact: at the rail's voltage while the relay is pulled in."),
            new()
            {
                Name = "coil",
                Node = CoilPlus,
                ReferenceNode = CoilMinus,
                Reference = Driver == CoilDriver.None ? Reference.BoardGround : Reference.AcrossPart,
                Description = "Across the coil: the rail less the transistor's saturation voltage while on.",
            },
        ];
        if (Driver != CoilDriver.None)
        {
            points.Add(Ground("base", "base", "Base of the transistor: 0.7 V while on (twice that in a Darlington)."));
            points.Add(Ground("collector", "collector", "Collector of the transistor: near ground while on, a diode above the rail while the coil's current dies down, then the rail."));
        }

        return points;
    }

    private List<CurrentPoint> Clamps()
    {
        List<CurrentPoint> clamps =
        [
            new() { Name = "coil", Part = "K1", Description = "Current through the coil: an exponential rise with a dip where the armature closes." },
            new() { Name = "port", Part = "R_port", Description = "Current that the processor's port gives." },
            new() { Name = "free-wheel", Part = FreeWheel == FreeWheelPath.ResistorAndCapacitor ? "C_free" : "D_free", Description = "Current through the free-wheel path: the coil's, after the transistor has turned off." },
            new() { Name = "rail", Part = "R_rail", Description = "Current out of the rail." },
            new() { Name = "contact", Part = "S_contact", Description = "Current through the contact into its load." },
        ];
        if (Driver != CoilDriver.None)
        {
            clamps.Add(new() { Name = "collector", Part = "Q_switch", Description = "Collector current of the (output) transistor." });
        }

        return clamps;
    }

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = "0",
        Reference = Reference.BoardGround,
        Description = description,
    };
}
