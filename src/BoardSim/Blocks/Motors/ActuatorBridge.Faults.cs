using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Motors;

public sealed partial class ActuatorBridge
{
    private const string OpenMechanism = "A burst of current took the bond wire, or a joint cracked: one direction is dead, the other is in order.";
    private const string ShortMechanism = "Too much heat or a spike on the rail fused the transistor: as soon as the other switch of its side turns on, both carry what the rail can give.";

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults { get; } =
    [
        .. new[] { "a-high", "a-low", "b-high", "b-low" }.SelectMany(SwitchFaults),
        new(static (board, seconds) => PartEdits.Change<BridgeDriver>(board, "U_bridge", u => u.OffDelay = seconds))
        {
            Id = "dead-time-lost",
            Title = "Switches turn off too late",
            Mechanism = "The resistor that empties the gates has drifted or a larger transistor was put in: a switch is still on when the other of its side turns on, and for that long the rail is shorted through both.",
            Part = "U_bridge",
            Severity = new SeverityDefinition { Unit = "s", Default = 6e-6, Minimum = 0, Maximum = 1e-3, Description = "Delay until a switch is off; the overlap is what it has over bridge.turn-on." },
        },
        ControlOpen("a"),
        ControlOpen("b"),
        .. MotorFaults(),
        .. VentFaults(),
    ];

    private static IEnumerable<FaultDefinition> SwitchFaults(string name)
    {
        var (part, words) = ($"S_{name.Replace('-', '_')}", $"{name[..1].ToUpperInvariant()}, {(name.EndsWith("high", StringComparison.Ordinal) ? "rail" : "ground")} side");
        yield return new((board, _) => PartEdits.Open(board, part))
        {
            Id = $"{name}-open",
            Title = $"Switch {words}, open",
            Mechanism = OpenMechanism,
            Part = part,
        };
        yield return new((board, ohms) => PartEdits.Short(board, part, ohms))
        {
            Id = $"{name}-shorted",
            Title = $"Switch {words}, shorted",
            Mechanism = ShortMechanism,
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.3, Minimum = 1e-3, Maximum = 1e6, Description = "What is left of it." },
        };
    }

    private static FaultDefinition ControlOpen(string side) => new((board, _) => PartEdits.Open(board, $"R_{side}"))
    {
        Id = $"control-{side}-open",
        Title = $"Control {side.ToUpperInvariant()} open",
        Mechanism = "A cracked joint or resistor between processor and bridge: the pull-down makes the bridge see it low, so this direction is dead and the brake turns into the other direction.",
        Part = $"R_{side}",
    };

    private static IEnumerable<FaultDefinition> MotorFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "M1"))
        {
            Id = "motor-open",
            Title = "Motor open",
            Mechanism = "Brushes worn down to nothing, a broken wire or a plug that has come off: voltage is there, current is not.",
            Part = "M1",
        };
        yield return new(static (board, share) => PartEdits.Change<DcMotor>(board, "M1", m => WindingFault.ShortTurns(m, share)))
        {
            Id = "motor-shorted-turns",
            Title = "Shorted turns in the motor",
            Mechanism = "Heat of a long stall has burnt the enamel: what is left of the winding takes more current, and the shorted turns brake the rotor like an eddy-current brake.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.3, Minimum = 0.01, Maximum = 0.9, Description = "Share of the turns that are shorted." },
        };
        yield return new(static (board, ohms) => PartEdits.InSeries(board, "M1", ohms))
        {
            Id = "plug-corroded",
            Title = "Motor's plug corroded",
            Mechanism = "Steam in the plug: contact resistance takes its share of the volts just when the current is largest, at the start.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 60, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance that the plug has gained." },
        };
    }

    private static IEnumerable<FaultDefinition> VentFaults()
    {
        yield return new(static (board, degrees) => PartEdits.Change<DcMotor>(board, "M1", m =>
        {
            // What lies in the way is met from the side on which the vent stands.
            var at = degrees * m.Gear * Math.PI / 180;
            (m.LowStop, m.HighStop) = m.InitialPosition <= at ? (m.LowStop, Math.Min(m.HighStop, at)) : (Math.Max(m.LowStop, at), m.HighStop);
        }))
        {
            Id = "vent-jammed",
            Title = "Vent jammed",
            Mechanism = "A baking sheet stands in the way, or dough has dried in the hinge: the motor stalls there and stays under full current for as long as the program drives it.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "deg", Default = 40, Minimum = 0.1, Maximum = 360, Description = "Position at which the vent meets what is in its way." },
        };
        yield return new(static (board, torque) => PartEdits.Change<DcMotor>(board, "M1", m => (m.Friction, m.Breakaway) = (torque, Math.Max(m.Breakaway ?? 0, 1.3 * torque))))
        {
            Id = "vent-stiff",
            Title = "Vent stiff",
            Mechanism = "Flour and dried dough in hinges and gears: the vent takes longer, the current is higher all the way, and one day it does not start.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "Nm", Default = 2.5e-3, Minimum = 0, Maximum = 10, Description = "Friction at the rotor; it takes 1.3 times as much to begin to move." },
        };
        yield return new(static (board, degrees) => PartEdits.Change<DcMotor>(board, "M1", m => m.HighStop += degrees * m.Gear * Math.PI / 180))
        {
            Id = "end-stop-broken",
            Title = "Open end stop broken",
            Mechanism = "The stop's cam has sheared off: the vent turns on until its linkage binds, and the way back takes longer than the program drives it.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "deg", Default = 30, Minimum = 0.1, Maximum = 360, Description = "Way beyond the stop until the linkage binds." },
        };
    }
}
