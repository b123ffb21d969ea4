using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.AcLoads;

public sealed partial class SwitchedLoad
{
    // A cracked joint touches over a part of its face only, and closes after it has cooled by this much.
    private const double CrackedOhms = 40e-3;
    private const double CrackHysteresis = 25;

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => Drive == CoilDrive.Direct ? OfTheLoad : [.. OfTheLoad, .. Stage.Faults()];

    private static CoilStage Stage { get; } = new("coil", "Coil's", "");

    private static IReadOnlyList<FaultDefinition> OfTheLoad { get; } =
    [
        new(static (board, ohms) => PartEdits.Change<ThermalJoint>(board, "J_contact", j => j.ResistanceAt20 += ohms))
        {
            Id = "contact-worn",
            Title = "Contact worn",
            Mechanism = "Arcs at each switching eat the silver and leave oxide: what is left drops volts and turns them into heat, which wears it faster still.",
            Part = "J_contact",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.12, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance that the contact has gained." },
        },
        new(static (board, _) => PartEdits.Short(board, "S_contact", 1e-3))
        {
            Id = "contact-welded",
            Title = "Contact welded",
            Mechanism = "An inrush or a bounce under load melted the contacts together: the element stays on whatever the coil does.",
            Part = "S_contact",
        },
        new(static (board, _) => PartEdits.Open(board, "S_contact"))
        {
            Id = "contact-never-closes",
            Title = "Contact never closes",
            Mechanism = "Oxide, a chip of plastic or a bent spring: the relay clicks and nothing follows.",
            Part = "S_contact",
        },
        new(static (board, ohms) => PartEdits.Change<ThermalJoint>(board, "J_joint", j => j.ResistanceAt20 = ohms))
        {
            Id = "joint-resistance-high",
            Title = "Solder joint with too much resistance",
            Mechanism = "Too little solder, a track that is too thin or years of warming and cooling: the joint runs hot and its resin turns brown.",
            Part = "J_joint",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 40e-3, Minimum = 1e-4, Maximum = 1e6, Description = "Resistance of the joint at 20 degC." },
        },
        new(static (board, kelvin) => PartEdits.Change<ThermalJoint>(board, "J_joint", j =>
        {
            j.ResistanceAt20 = Math.Max(j.ResistanceAt20, CrackedOhms);
            (j.OpensAt, j.ClosesAt) = (kelvin, kelvin - CrackHysteresis);
        }))
        {
            Id = "joint-cracked",
            Title = "Cracked solder joint that opens when warm",
            Mechanism = "A ring of solder has cracked round the pin after thousands of warm and cold turns. It touches while cold, warms by its poor contact until the pin has stretched away, and closes 25 K cooler.",
            Part = "J_joint",
            Severity = new SeverityDefinition { Unit = "degC", Default = 353.15, Minimum = 253.15, Maximum = 573.15, Description = "Temperature at which the crack opens." },
        },
        new(static (board, _) => PartEdits.Open(board, "K1"))
        {
            Id = "coil-open",
            Title = "Coil open",
            Mechanism = "Wire thinner than a hair corrodes through or tears at its pin.",
            Part = "K1",
        },
        new(static (board, _) => PartEdits.Open(board, "R_element"))
        {
            Id = "element-open",
            Title = "Heating element open",
            Mechanism = "The wire has burnt through at a hot spot or at its terminal.",
            Part = "R_element",
        },
    ];
}
