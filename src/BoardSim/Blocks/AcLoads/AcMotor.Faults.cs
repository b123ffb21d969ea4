using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.AcLoads;

public sealed partial class AcMotor
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
        [.. HasCapacitor ? MotorFaults.Capacitor("C_phase") : [], .. WindingFaults(), .. MechanicalFaults(), .. HasStartRelay ? StartRelayFaults() : []];

    private static IEnumerable<FaultDefinition> WindingFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "M1", 2))
        {
            Id = "start-winding-open",
            Title = "Start winding open",
            Mechanism = "Its thin wire has burnt through after a start that took too long: the motor hums and does not turn by itself.",
            Part = "M1",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "M1"))
        {
            Id = "run-winding-open",
            Title = "Run winding open",
            Mechanism = "A burnt winding or a torn lead: hardly any current and no torque.",
            Part = "M1",
        };
    }

    private static IEnumerable<FaultDefinition> MechanicalFaults()
    {
        yield return new(static (board, _) => PartEdits.Change<SinglePhaseMotor>(board, "M1", m => m.IsLocked = true))
        {
            Id = "rotor-locked",
            Title = "Rotor locked",
            Mechanism = "A seized bearing, a blade against the housing, a compressor that starts against pressure: locked-rotor current for as long as the line is on.",
            Part = "M1",
        };
        yield return new(static (board, newtonMetres) => PartEdits.Change<SinglePhaseMotor>(board, "M1", m => m.ConstantTorque += newtonMetres))
        {
            Id = "bearing-drag",
            Title = "Bearing drags",
            Mechanism = "Dried grease and flour dust: more slip, more current, more heat, until it does not start any more.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "Nm", Default = 0.08, Minimum = 1e-4, Maximum = 1000, Description = "Torque that the bearing takes beside the usual." },
        };
    }

    private static IEnumerable<FaultDefinition> StartRelayFaults()
    {
        yield return new(static (board, _) => PartEdits.Change<StartRelay>(board, "K_start", k => k.OffResistance = k.OnResistance))
        {
            Id = "start-relay-welded",
            Title = "Start relay's contact welded",
            Mechanism = "Too many starts: the contact does not part, and the start winding, meant for a second, stays on and burns.",
            Part = "K_start",
        };
        yield return new(static (board, _) => PartEdits.Change<StartRelay>(board, "K_start", k => k.OnResistance = k.OffResistance))
        {
            Id = "start-relay-never-closes",
            Title = "Start relay never closes",
            Mechanism = "A burnt contact or a stuck plunger: the run winding hums alone.",
            Part = "K_start",
        };
    }
}
