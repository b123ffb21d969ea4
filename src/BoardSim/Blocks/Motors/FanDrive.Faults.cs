using BoardSim.Blocks.Processors;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Motors;

public sealed partial class FanDrive
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => PulsesBy == PulseDetail.Mean ? [.. MotorFaults(), .. MeanFaults()] : [.. MotorFaults(), .. DriveFaults(), .. TachometerFaults(), RippleFault()];

    private static IEnumerable<FaultDefinition> MotorFaults()
    {
        yield return new(static (board, torque) => PartEdits.Change<DcMotor>(board, "M1", m => (m.Friction, m.Breakaway) = (torque, Math.Max(m.Breakaway ?? 0, 1.5 * torque))))
        {
            Id = "bearing-drag",
            Title = "Bearing drags",
            Mechanism = "Grease dried by years of warm air, and flour in it: the loop makes up for it with more current until it has no more to give, and one cold morning the fan does not start.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "Nm", Default = 4e-3, Minimum = 0, Maximum = 10, Description = "Friction of the bearing; it takes half as much again to begin to turn." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "M1"))
        {
            Id = "winding-open",
            Title = "Winding open",
            Mechanism = "A wire has broken at its pin, or the plug has come off: volts are there, current is not.",
            Part = "M1",
        };
        yield return new(static (board, share) => PartEdits.Change<DcMotor>(board, "M1", m => WindingFault.ShortTurns(m, share)))
        {
            Id = "winding-shorted",
            Title = "Shorted turns in the winding",
            Mechanism = "Heat and moisture have broken the enamel down: less back-EMF, more current, and the shorted turns brake.",
            Part = "M1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.3, Minimum = 0.01, Maximum = 0.9, Description = "Share of the turns that are shorted." },
        };
    }

    private static IEnumerable<FaultDefinition> DriveFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "Q_buffer", 2))
        {
            Id = "buffer-open",
            Title = "Buffer open",
            Mechanism = "The start current of a stuck fan took its bond wire: pulses arrive at its base and nothing leaves it.",
            Part = "Q_buffer",
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "Q_buffer", ohms, 0, 2))
        {
            Id = "buffer-shorted",
            Title = "Buffer shorted",
            Mechanism = "Too much heat fused it from emitter to collector: the fan runs at full speed, whatever the pulses say, and the loop turns its duty down to nothing.",
            Part = "Q_buffer",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1, Minimum = 1e-3, Maximum = 1e6, Description = "What is left between emitter and collector." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "Q_level"))
        {
            Id = "level-shifter-open",
            Title = "Level shifter open",
            Mechanism = "A cracked joint after the board was bent: the pulses do not get beyond it, and the pull-up keeps the buffer off.",
            Part = "Q_level",
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "Q_level", ohms, 0, 2))
        {
            Id = "level-shifter-shorted",
            Title = "Level shifter shorted",
            Mechanism = "A spike on the rail broke it down: the buffer is on for good.",
            Part = "Q_level",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 10, Minimum = 1e-3, Maximum = 1e6, Description = "What is left between collector and emitter." },
        };
        yield return new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_series", r => r.Resistance *= factor))
        {
            Id = "resistor-drifted",
            Title = "Series resistor drifted",
            Mechanism = "Years of its own heat have burnt the film away: the fan gets fewer volts, the resistor even hotter, until it is open.",
            Part = "R_series",
            Severity = new SeverityDefinition { Unit = "", Default = 3, Minimum = 0.01, Maximum = 1e6, Description = "Resistance as a multiple of the right one." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "C_fan"))
        {
            Id = "fan-capacitor-open",
            Title = "Capacitor of the fan open",
            Mechanism = "It has dried out next to the warm resistor: the fan gets the bare pulses and sings with their frequency.",
            Part = "C_fan",
        };
    }

    private static IEnumerable<FaultDefinition> TachometerFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "T1"))
        {
            Id = "tachometer-dead",
            Title = "Tachometer dead",
            Mechanism = "Its wire is broken or its transistor is: the line stays high, the controller takes the fan for standing, gives it all it has, and turns it off in the end.",
            Part = "T1",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "R_tacho"))
        {
            Id = "pull-up-open",
            Title = "Pull-up of the tachometer open",
            Mechanism = "A cracked chip resistor: the open collector has nothing to pull down, and the line stays low.",
            Part = "R_tacho",
        };
    }

    private FaultDefinition RippleFault() => new((board, volts) => PartEdits.Change<VoltageSource>(board, "V_ripple", v => v.Waveform = RippleOf(volts)))
    {
        Id = "rail-ripple",
        Title = "Ripple on the rail",
        Mechanism = "The supply's capacitors have dried out: the rail's ripple goes through buffer and resistor into the winding, and the blades' frame makes it a tone.",
        Part = "V_ripple",
        Severity = new SeverityDefinition { Unit = "V", Default = 1.5, Minimum = 0, Maximum = 30, Description = "Amplitude of the ripple." },
    };
}
