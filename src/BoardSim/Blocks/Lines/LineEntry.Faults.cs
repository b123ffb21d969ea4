using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Lines;

public sealed partial class LineEntry
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => LineDetail == LineDetail.Rms ? [.. All.Where(f => !NotByRms.Contains(f.Id))] : All;

    // What these change is the line's crest, its reactive currents or its noise, none of which an RMS value has.
    private static readonly string[] NotByRms = ["varistor-worn", "x-faded", "bleeder-open", "y-open", "y2-open", "choke-shorted", "choke2-shorted"];

    private static readonly IReadOnlyList<FaultDefinition> All =
    [
        new(static (board, _) => PartEdits.Open(board, "F1"))
        {
            Id = "fuse-open",
            Title = "Fuse open",
            Mechanism = "It has done its work, or aged at the ends of its wire: find out what it protected before putting in another.",
            Part = "F1",
        },
        new(static (board, integral) => PartEdits.Change<Fuse>(board, "F1", f => (f.SteadyCurrent, f.MeltingIntegral) = (f.SteadyCurrent * Math.Sqrt(integral / f.MeltingIntegral), integral)))
        {
            Id = "fuse-wrong",
            Title = "Fuse of another rating",
            Mechanism = "Somebody has put in what was at hand: too small opens at switch-on, too large protects nothing.",
            Part = "F1",
            Severity = new SeverityDefinition { Unit = "A2s", Default = 0.3, Minimum = 1e-4, Maximum = 1e5, Description = "Its melting I2t; the current that melts it in the end goes with the root." },
        },
        new(static (board, ohms) => PartEdits.Across(board, "RV1", ohms))
        {
            Id = "varistor-leaky",
            Title = "Varistor leaky",
            Mechanism = "Surges wear zinc oxide down: its voltage sinks, it leaks, heats up and leaks more.",
            Part = "RV1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 5e3, Minimum = 1, Maximum = 1e9, Description = "Leakage resistance across it." },
        },
        new(static (board, share) => PartEdits.Change<Varistor>(board, "RV1", v => v.ReferenceVoltage *= share))
        {
            Id = "varistor-worn",
            Title = "Varistor worn by surges",
            Mechanism = "Each surge takes a little of its voltage; at 10 % less it counts as worn out (common practice), and the crest of the line comes near.",
            Part = "RV1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.7, Minimum = 0.1, Maximum = 1, Description = "Varistor voltage that is left, as a share." },
        },
        new(static (board, ohms) => PartEdits.Across(board, "RV1", ohms))
        {
            Id = "varistor-shorted",
            Title = "Varistor shorted",
            Mechanism = "A surge beyond its energy has punched through: the fuse opens at the next power-up at the latest.",
            Part = "RV1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.1, Minimum = 1e-3, Maximum = 100, Description = "What is left across it." },
        },
        new(static (board, _) => PartEdits.Open(board, "RV1"))
        {
            Id = "varistor-open",
            Title = "Varistor open",
            Mechanism = "Burst or cut out after a surge: nobody notices until the next one.",
            Part = "RV1",
        },
        new(static (board, share) => PartEdits.Change<Capacitor>(board, "C_x", c => c.Capacitance *= share))
        {
            Id = "x-faded",
            Title = "X capacitor faded",
            Mechanism = "Its metal film heals each breakdown at the cost of some area: after years of surges and moisture little is left.",
            Part = "C_x",
            Severity = new SeverityDefinition { Unit = "", Default = 0.2, Minimum = 0.001, Maximum = 1, Description = "Capacitance that is left, as a share." },
        },
        new(static (board, _) => PartEdits.Short(board, "C_x", 0.05))
        {
            Id = "x-shorted",
            Title = "X capacitor shorted",
            Mechanism = "A breakdown that did not heal: the fuse opens.",
            Part = "C_x",
        },
        new(static (board, _) => PartEdits.Open(board, "R_bleeder"))
        {
            Id = "bleeder-open",
            Title = "Bleeder open",
            Mechanism = "A resistor at line voltage day and night: it opens, and the pins of the pulled plug stay charged.",
            Part = "R_bleeder",
        },
        new(static (board, _) => PartEdits.Open(board, "C_y1"))
        {
            Id = "y-open",
            Title = "Y capacitor open",
            Mechanism = "A cracked lead: the filter lets common-mode noise pass.",
            Part = "C_y1",
        },
        new(static (board, ohms) => PartEdits.Across(board, "C_y1", ohms))
        {
            Id = "y-leaky",
            Title = "Leak from the line side to earth",
            Mechanism = "Damp dirt across a Y capacitor: current flows to earth, and a residual-current device trips.",
            Part = "C_y1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 10e3, Minimum = 1, Maximum = 1e9, Description = "Resistance of the leak." },
        },
        // In the lead, behind the core's loss: what stands for it beside the winding is no way for the line's current.
        new(static (board, _) => PartEdits.Open(board, "R_choke1"))
        {
            Id = "choke-open",
            Title = "Winding of the choke open",
            Mechanism = "A heavy part on thin pins: a joint or the wire breaks, and the board is dead with a whole fuse.",
            Part = "R_choke1",
        },
        new(static (board, ohms) => PartEdits.Across(board, "L_choke1", ohms))
        {
            Id = "choke-shorted",
            Title = "Winding of the choke shorted",
            Mechanism = "A surge has broken down its enamel: through both windings' coupling the whole choke is gone for common-mode noise.",
            Part = "L_choke1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.1, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance of the short across the winding." },
        },
        new(static (board, _) => PartEdits.Open(board, "C_y2"))
        {
            Id = "y2-open",
            Title = "Y capacitor of the neutral side open",
            Mechanism = "A cracked lead: common-mode noise leaves by the neutral conductor; at line frequency nothing shows, for neutral is near earth.",
            Part = "C_y2",
        },
        new(static (board, ohms) => PartEdits.Across(board, "C_y2", ohms))
        {
            Id = "y2-leaky",
            Title = "Leak from the neutral side to earth",
            Mechanism = "Damp dirt, or a pinched wire: part of the return current goes home through earth. It takes ohms until a residual-current device trips, and then only under load.",
            Part = "C_y2",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 10, Minimum = 0.1, Maximum = 1e9, Description = "Resistance of the leak." },
        },
        new(static (board, _) => PartEdits.Open(board, "R_choke2"))
        {
            Id = "choke2-open",
            Title = "Winding of the choke in the neutral conductor open",
            Mechanism = "A heavy part on thin pins: a joint or the wire breaks, and the board is dead with a whole fuse, and all of it at line voltage against earth.",
            Part = "R_choke2",
        },
        new(static (board, ohms) => PartEdits.Across(board, "L_choke2", ohms))
        {
            Id = "choke2-shorted",
            Title = "Winding of the choke in the neutral conductor shorted",
            Mechanism = "A surge has broken down its enamel: through both windings' coupling the whole choke is gone for common-mode noise.",
            Part = "L_choke2",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.1, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance of the short across the winding." },
        },
        new(static (board, ohms) => PartEdits.Change<ThermalJoint>(board, "R_terminal", joint => joint.ResistanceAt20 = ohms))
        {
            Id = "terminal-loose",
            Title = "Line terminal loose",
            Mechanism = "A screw or a spring that has given way: what it drops it turns into heat, which loosens it more.",
            Part = "R_terminal",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 2, Minimum = 5e-3, Maximum = 1e4, Description = "Resistance of the terminal at 20 degC; its own heat raises it." },
        },
    ];
}
