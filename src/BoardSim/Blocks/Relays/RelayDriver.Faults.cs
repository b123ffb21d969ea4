using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Relays;

public sealed partial class RelayDriver
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
        [.. Driver == CoilDriver.None ? [] : TransistorFaults(), .. FreeWheel == FreeWheelPath.ResistorAndCapacitor ? SnubberFaults() : DiodeFaults(), .. CoilFaults(), .. ContactFaults(), Sagging()];

    private static IEnumerable<FaultDefinition> TransistorFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "Q_switch"))
        {
            Id = "transistor-open",
            Title = "Driver transistor open",
            Mechanism = "An over-current burst took the bond wire, or a joint cracked: the port goes high and nothing happens.",
            Part = "Q_switch",
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "Q_switch", ohms, 0, 2))
        {
            Id = "transistor-shorted",
            Title = "Driver transistor shorted",
            Mechanism = "Over-voltage from the coil or too much heat fused collector to emitter: the relay is on for good.",
            Part = "Q_switch",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1, Minimum = 0.001, Maximum = 1e6, Description = "What is left between collector and emitter." },
        };
        yield return new(static (board, gain) => PartEdits.Change<BipolarTransistor>(board, "Q_switch", q => q.Model = q.Model with { ForwardBeta = gain }))
        {
            Id = "transistor-weak",
            Title = "Driver transistor with little gain",
            Mechanism = "Repeated base-emitter breakdown and heat degrade the junction's surface: the gain falls until the transistor no longer saturates and gets hot.",
            Part = "Q_switch",
            Severity = new SeverityDefinition { Unit = "", Default = 15, Minimum = 0.1, Maximum = 2000, Description = "Forward current gain that is left." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "R_base"))
        {
            Id = "base-resistor-open",
            Title = "Base resistor open",
            Mechanism = "A cracked chip resistor after the board was bent, or a dry joint.",
            Part = "R_base",
        };
    }

    private static IEnumerable<FaultDefinition> DiodeFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "D_free"))
        {
            Id = "free-wheel-open",
            Title = "Free-wheel diode open",
            Mechanism = "A cracked joint or a part left out in a repair: each turn-off drives the collector into breakdown, until the transistor gives in.",
            Part = "D_free",
        };
        yield return new(static (board, _) => PartEdits.Short(board, "D_free", 0.1))
        {
            Id = "free-wheel-shorted",
            Title = "Free-wheel diode shorted",
            Mechanism = "An over-voltage on the rail or a diode put in the wrong way round: the transistor switches the bare rail and the coil gets nothing.",
            Part = "D_free",
        };
    }

    private static IEnumerable<FaultDefinition> SnubberFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "C_free"))
        {
            Id = "snubber-open",
            Title = "Capacitor across the coil open",
            Mechanism = "A cracked chip capacitor or a dry joint: each turn-off drives the collector into breakdown, until the transistor gives in.",
            Part = "C_free",
        };
        yield return new(static (board, _) => PartEdits.Short(board, "C_free", 0.1))
        {
            Id = "snubber-shorted",
            Title = "Capacitor across the coil shorted",
            Mechanism = "A bent board cracked it right through: the resistor lies across the coil, warms up, and slows the release.",
            Part = "C_free",
        };
    }

    private static IEnumerable<FaultDefinition> CoilFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "K1"))
        {
            Id = "coil-open",
            Title = "Coil open",
            Mechanism = "Wire thinner than a hair corrodes through or tears at its pin.",
            Part = "K1",
        };
        yield return new(static (board, share) => PartEdits.Change<RelayCoil>(board, "K1", k =>
        {
            // Fewer turns carry the pull: resistance goes with the turns, inductance with their square, and the current for the
            // same ampere-turns rises. What the closed turns do to the speed is left out.
            var left = 1 - share;
            k.ResistanceAt20 *= left;
            k.ReleasedInductance *= left * left;
            k.PulledInInductance *= left * left;
            k.PullInCurrent /= left;
            k.DropOutCurrent /= left;
        }))
        {
            Id = "coil-shorted-turns",
            Title = "Shorted turns in the coil",
            Mechanism = "Heat and moisture break down the enamel between layers: less resistance, more current, more heat, until it runs away.",
            Part = "K1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.4, Minimum = 0.01, Maximum = 0.95, Description = "Share of the turns that are shorted." },
        };
    }

    private static IEnumerable<FaultDefinition> ContactFaults()
    {
        yield return new(static (board, ohms) => PartEdits.InSeries(board, "S_contact", ohms))
        {
            Id = "contact-worn",
            Title = "Contact worn",
            Mechanism = "Arcs at each switching eat the silver: what is left drops volts and turns them into heat.",
            Part = "S_contact",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance that the contact has gained." },
        };
        yield return new(static (board, _) => PartEdits.Short(board, "S_contact", 0.01))
        {
            Id = "contact-welded",
            Title = "Contact welded",
            Mechanism = "An inrush melted the contacts together: the load stays on whatever the coil does.",
            Part = "S_contact",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "S_contact"))
        {
            Id = "contact-never-closes",
            Title = "Contact never closes",
            Mechanism = "Oxide, a chip of plastic or a bent spring: the relay clicks and nothing follows.",
            Part = "S_contact",
        };
    }

    private static FaultDefinition Sagging() => new(static (board, volts) =>
        PartEdits.Change<VoltageSource>(board, "V_rail", v => v.Waveform = new DcWaveform(volts)))
    {
        Id = "rail-sagging",
        Title = "Sagging rail",
        Mechanism = "An aged supply or an overload elsewhere on the board drags the rail down.",
        Part = "V_rail",
        Severity = new SeverityDefinition { Unit = "V", Default = 9, Minimum = 0.1, Maximum = 60, Description = "Voltage of the rail." },
    };
}
