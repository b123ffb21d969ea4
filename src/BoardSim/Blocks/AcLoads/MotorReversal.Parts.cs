using BoardSim.Boards;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Blocks.AcLoads;

public sealed partial class MotorReversal
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
    [
        .. MotorFaults.Capacitor("C_phase"),
        .. ContactFaults(),
        .. MotorFaultsProper(),
        .. Drive == CoilDrive.Direct ? [] : Ways.SelectMany(way => Stage(way).Faults()),
    ];

    private static string[] Ways { get; } = ["forward", "reverse"];

    private List<TestPoint> Points() =>
    [
        LoadPoints.Neutral("forward-winding", "forward", "Across winding 1: the line while going forwards, more than that while going in reverse."),
        LoadPoints.Neutral("reverse-winding", "reverse", "Across winding 2: the line while going in reverse, more than that while going forwards."),
        LoadPoints.Across("capacitor", "forward", "reverse", "Across the capacitor: about one and a half times the line while the motor runs."),
        new() { Name = "forward-command", Node = "command-forward", ReferenceNode = "ground", Reference = Reference.BoardGround, Description = Drive == CoilDrive.Direct ? "Coil of the forward relay." : "Processor's output for the forward relay." },
        new() { Name = "reverse-command", Node = "command-reverse", ReferenceNode = "ground", Reference = Reference.BoardGround, Description = Drive == CoilDrive.Direct ? "Coil of the reverse relay." : "Processor's output for the reverse relay." },
        .. Drive == CoilDrive.Direct ? [] : Ways.Select(way => new TestPoint
        {
            Name = $"{way}-collector",
            Node = $"collector-{way}",
            ReferenceNode = "ground",
            Reference = Reference.BoardGround,
            Description = $"Collector of the {way} relay's transistor: the rail while off, some tenths of a volt while on.",
        }),
    ];

    private static IReadOnlyList<CurrentPoint> Clamps { get; } =
    [
        LoadPoints.Clamp("forward-contact", "S_forward", "Current through the forward relay's contact."),
        LoadPoints.Clamp("reverse-contact", "S_reverse", "Current through the reverse relay's contact."),
        LoadPoints.Clamp("winding-1", "M1", "Current of winding 1."),
        LoadPoints.Clamp("capacitor", "C_phase", "Current through the capacitor."),
        new() { Name = "forward-coil", Part = "K_forward", Description = "Current through the forward relay's coil." },
        new() { Name = "reverse-coil", Part = "K_reverse", Description = "Current through the reverse relay's coil." },
    ];

    private static IReadOnlyList<StatePoint> StatePoints { get; } =
    [
        LoadPoints.State("speed", "M1", "speed", "rpm", "Speed, negative in reverse."),
        LoadPoints.State("direction", "M1", "direction", "", "1 forwards, -1 in reverse, 0 below 20 rpm."),
        LoadPoints.State("torque", "M1", "torque", "Nm", "Torque in the air gap."),
        LoadPoints.State("winding-1-temperature", "M1", "run-temperature", "degC", "Temperature of winding 1."),
        LoadPoints.State("winding-2-temperature", "M1", "start-temperature", "degC", "Temperature of winding 2."),
        LoadPoints.State("forward-closed", "K_forward", "made", "", "1 while the forward relay is pulled in."),
        LoadPoints.State("reverse-closed", "K_reverse", "made", "", "1 while the reverse relay is pulled in."),
    ];

    private static IEnumerable<FaultDefinition> ContactFaults()
    {
        foreach (var way in Ways)
        {
            yield return new((board, _) => PartEdits.Open(board, $"K_{way}"))
            {
                Id = $"{way}-coil-open",
                Title = $"{(way == "forward" ? "Forward" : "Reverse")} relay's coil open",
                Mechanism = "Wire thinner than a hair corrodes through or tears at its pin: the command is there and nothing clicks.",
                Part = $"K_{way}",
            };
            yield return new((board, _) => PartEdits.Short(board, $"S_{way}", 0.01))
            {
                Id = $"{way}-contact-welded",
                Title = $"{(way == "forward" ? "Forward" : "Reverse")} relay's contact welded",
                Mechanism = "A charged capacitor discharged into closing contacts: that direction is on for good, and the other one shorts the capacitor.",
                Part = $"S_{way}",
            };
            yield return new((board, _) => PartEdits.Open(board, $"S_{way}"))
            {
                Id = $"{way}-contact-never-closes",
                Title = $"{(way == "forward" ? "Forward" : "Reverse")} relay's contact never closes",
                Mechanism = "Oxide or a bent spring: the relay clicks and the vent stays where it is.",
                Part = $"S_{way}",
            };
        }
    }

    private static IEnumerable<FaultDefinition> MotorFaultsProper()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "M1", 0))
        {
            Id = "winding-1-open",
            Title = "Winding 1 open",
            Mechanism = "Thin wire, corroded or burnt through: neither direction has two phases any more.",
            Part = "M1",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "M1", 2))
        {
            Id = "winding-2-open",
            Title = "Winding 2 open",
            Mechanism = "Thin wire, corroded or burnt through: neither direction has two phases any more.",
            Part = "M1",
        };
        yield return new(static (board, _) => PartEdits.Change<SinglePhaseMotor>(board, "M1", m => m.IsLocked = true))
        {
            Id = "gear-stuck",
            Title = "Gear stuck",
            Mechanism = "A broken tooth or a vent that is frozen shut by dried dough: the motor hums at its locked-rotor current.",
            Part = "M1",
        };
        yield return new(static (board, newtonMetres) => PartEdits.Change<SinglePhaseMotor>(board, "M1", m => m.ConstantTorque += newtonMetres))
        {
            Id = "gear-drag",
            Title = "Gear drags",
            Mechanism = "Hardened grease: slower, then too weak to start.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "Nm", Default = 6e-3, Minimum = 1e-5, Maximum = 1000, Description = "Torque at the motor's shaft beside the usual." },
        };
    }
}
