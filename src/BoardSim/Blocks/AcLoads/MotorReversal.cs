using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.AcLoads;

/// <summary>
/// Two relays that reverse a single-phase motor: each puts the line on one of two equal windings, and the other gets it through the capacitor and leads.
/// <code>
///                 S_forward
///  line o--+--------o/ o---- forward ---+---- winding 1 (M1) ---o neutral
///          |        :  K_forward        |
///          |                         C_phase
///          |                            |
///          +--------o/ o---- reverse ---+---- winding 2 (M1) ---o neutral
///                 S_reverse
///                   :  K_reverse
///  coils: command-forward, command-reverse against ground, D_forward and D_reverse across them
///  coil.drive transistor: coils from rail to collector-forward and collector-reverse, switched against ground by Q_forward and Q_reverse, whose bases
///  hang on command-forward and command-reverse by R_base_forward and R_base_reverse
/// </code>
/// </summary>
public sealed partial class MotorReversal : Block
{
    private const double SixtyHertz = 2 * Math.PI * 60;

    /// <inheritdoc/>
    public override string Id => "motor-reversal";

    /// <inheritdoc/>
    public override string Title => "Two relays that reverse a single-phase motor";

    /// <inheritdoc/>
    public override string Summary =>
        "Actuator of a vent: whichever winding the capacitor feeds is the start winding, so the relay that is on decides the direction. A faded capacitor takes the torque away, "
        + "and with both relays closed the capacitor is shorted: the motor hums, and the contacts take its charge as a spark.";

    /// <inheritdoc/>
    public override string Topology => """
                        S_forward
         line o--+--------o/ o---- forward ---+---- winding 1 (M1) ---o neutral
                 |        :  K_forward        |
                 |                         C_phase
                 |                            |
                 +--------o/ o---- reverse ---+---- winding 2 (M1) ---o neutral
                        S_reverse
                          :  K_reverse
         coils: command-forward, command-reverse against ground, D_forward and D_reverse across them
         coil.drive: transistor
          rail --K_forward-- collector-forward --[ Q_forward ]-- ground     (the same for reverse)
          command-forward --R_base_forward-- base of Q_forward, R_pulldown_forward to ground
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <inheritdoc/>
    protected override string? WrongWithRmsLine => "a single-phase motor turns by the phase between two alternating currents, which an RMS value does not have; take detail: waveform for the mains, or a board without this block.";

    /// <summary>RMS voltage of the bench's line in volts.</summary>
    [Quantity("line.voltage", "V", 1, 300, "RMS voltage of the bench's line.", OnBenchOnly = true)]
    public double LineVoltage { get; set; } = 120;

    /// <summary>Frequency of the bench's line in hertz.</summary>
    [Quantity("line.frequency", "Hz", 10, 1000, "Frequency of the bench's line.", OnBenchOnly = true)]
    public double LineFrequency { get; set; } = 60;

    /// <summary>Voltage of the bench's commands in volts.</summary>
    [Quantity("command.voltage", "V", 0, 60, "Voltage that the bench puts on a coil, or on the coils' rail with coil.drive: transistor.", OnBenchOnly = true)]
    public double CommandVoltage { get; set; } = 12;

    /// <summary>Instant in seconds when the forward relay gets its voltage.</summary>
    [Quantity("forward.on-at", "s", 0, 1e6, "When the forward relay's coil gets its voltage.", OnBenchOnly = true)]
    public double ForwardOnAt { get; set; } = 20e-3;

    /// <summary>Time in seconds for which it keeps it.</summary>
    [Quantity("forward.on-for", "s", 1e-3, 1e6, "How long the forward relay's coil keeps its voltage.", OnBenchOnly = true)]
    public double ForwardOnFor { get; set; } = 0.5;

    /// <summary>Instant in seconds when the reverse relay gets its voltage.</summary>
    [Quantity("reverse.on-at", "s", 0, 1e6, "When the reverse relay's coil gets its voltage.", OnBenchOnly = true)]
    public double ReverseOnAt { get; set; } = 0.8;

    /// <summary>Time in seconds for which it keeps it.</summary>
    [Quantity("reverse.on-for", "s", 1e-3, 1e6, "How long the reverse relay's coil keeps its voltage.", OnBenchOnly = true)]
    public double ReverseOnFor { get; set; } = 0.5;

    /// <summary>Temperature of what surrounds the motor in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of what surrounds the motor.")]
    public double Ambient { get; set; } = 308.15;

    /// <summary>What puts the coils on their voltage.</summary>
    [Choice("coil.drive", "What puts the coils on their voltage: whatever is wired to them, or a transistor each that a processor's output drives.")]
    public CoilDrive Drive { get; set; } = CoilDrive.Direct;

    /// <summary>Base resistor of each transistor in ohms.</summary>
    [Quantity("base.resistance", "ohm", 100, 100e3, "Base resistor of each transistor; of use with coil.drive: transistor.")]
    public double BaseResistance { get; set; } = 4700;

    /// <summary>Resistance of each relay's coil at 20 degC, in ohms.</summary>
    [Quantity("coil.resistance", "ohm", 1, 100e3, "Resistance of each relay's coil at 20 degC.")]
    public double CoilResistance { get; set; } = 400;

    /// <summary>Current at which an armature starts to close, in amperes.</summary>
    [Quantity("relay.pull-in", "A", 1e-4, 10, "Coil current at which an armature starts to close; 55 to 75 % of the rated one.")]
    public double PullInCurrent { get; set; } = 19.5e-3;

    /// <summary>Current at which it falls back, in amperes.</summary>
    [Quantity("relay.drop-out", "A", 1e-5, 10, "Coil current at which an armature falls back; 10 to 30 % of the rated one.")]
    public double DropOutCurrent { get; set; } = 5e-3;

    /// <summary>Resistance of a closed contact in ohms.</summary>
    [Quantity("contact.resistance", "ohm", 1e-4, 100, "Resistance of a closed contact.")]
    public double ContactResistance { get; set; } = 30e-3;

    /// <summary>Capacitance in farads.</summary>
    [Quantity("capacitor.capacitance", "F", 1e-9, 1e-3, "Capacitance of the capacitor between the windings.")]
    public double Capacitance { get; set; } = 0.68e-6;

    /// <summary>Resistance of each winding at 20 degC in ohms.</summary>
    [Quantity("winding.resistance", "ohm", 0.01, 1e6, "Resistance of each winding at 20 degC.")]
    public double WindingResistance { get; set; } = 900;

    /// <summary>Leakage inductance of each winding in henries.</summary>
    [Quantity("winding.leakage", "H", 1e-5, 1000, "Leakage inductance of each winding.")]
    public double WindingLeakage { get; set; } = 1.3;

    /// <summary>Resistance of the cage in ohms, seen from a winding.</summary>
    [Quantity("cage.resistance", "ohm", 0.01, 1e6, "Resistance of the rotor's cage, seen from a winding.")]
    public double CageResistance { get; set; } = 800;

    /// <summary>Leakage inductance of the cage in henries, seen from a winding.</summary>
    [Quantity("cage.leakage", "H", 1e-5, 1000, "Leakage inductance of the rotor's cage, seen from a winding.")]
    public double CageLeakage { get; set; } = 1.1;

    /// <summary>Magnetising inductance in henries, seen from a winding.</summary>
    [Quantity("magnetising.inductance", "H", 1e-4, 1000, "Magnetising inductance, seen from a winding.")]
    public double MagnetisingInductance { get; set; } = 12;

    /// <summary>Torque of gear and vent at the motor's shaft in newton metres.</summary>
    [Quantity("load.torque", "Nm", 0, 1000, "Torque that gear and vent take at the motor's shaft.")]
    public double Torque { get; set; } = 8e-3;

    /// <summary>Moment of inertia at the motor's shaft in kilogram square metres.</summary>
    [Quantity("load.inertia", "kgm2", 1e-9, 10, "Moment of inertia of rotor and gear at the motor's shaft.")]
    public double Inertia { get; set; } = 1e-5;

    /// <summary>Heat capacity of each winding in joules per kelvin.</summary>
    [Quantity("winding.heat-capacity", "J/K", 1e-3, 1e6, "Heat capacity of each winding.")]
    public double HeatCapacity { get; set; } = 25;

    /// <summary>Thermal resistance of each winding in kelvin per watt.</summary>
    [Quantity("winding.thermal-resistance", "K/W", 0.01, 1000, "Thermal resistance from each winding to what surrounds the motor.")]
    public double ThermalResistance { get; set; } = 14;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports =>
    [
        new() { Name = "line", Node = "line", Description = "Line." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
        .. Drive == CoilDrive.Direct ? [] : new[] { new Port { Name = "rail", Node = "rail", Description = "Rail of both coils." } },
        new() { Name = "forward", Node = "command-forward", Description = Drive == CoilDrive.Direct ? "Coil of the forward relay." : "From the processor: high puts the forward relay on." },
        new() { Name = "reverse", Node = "command-reverse", Description = Drive == CoilDrive.Direct ? "Coil of the reverse relay." : "From the processor: high puts the reverse relay on." },
        new() { Name = "ground", Node = "ground", Description = Drive == CoilDrive.Direct ? "Other end of both coils." : "Board ground." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line", "V_rail", "V_forward", "V_reverse"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_line", "R_bond", "C_bond", "V_rail", "V_forward", "V_reverse", "R_ground"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(PullInCurrent > DropOutCurrent))
        {
            yield return "relay.pull-in must be above relay.drop-out.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "line", "neutral", new SineWaveform { Amplitude = Math.Sqrt(2) * LineVoltage, Frequency = LineFrequency }));
        LineWiring.AddBond(circuit);
        circuit.Add(new Resistor("R_ground", "ground", Circuit.Ground, 1e-3));
        if (Drive == CoilDrive.Transistor)
        {
            circuit.Add(new VoltageSource("V_rail", "rail", "ground", CommandVoltage));
        }

        AddRelay(circuit, "forward", ForwardOnAt, ForwardOnFor);
        AddRelay(circuit, "reverse", ReverseOnAt, ReverseOnFor);
        circuit.Add(new Capacitor("C_phase", "forward", "reverse", Capacitance) { SeriesResistance = 0.003 / (SixtyHertz * Capacitance) });
        AddWindingCapacitances(circuit, "forward", "reverse");
        circuit.Add(new SinglePhaseMotor("M1", "forward", "neutral", "reverse", "neutral")
        {
            RunResistance = WindingResistance,
            RunLeakage = WindingLeakage,
            StartResistance = WindingResistance,
            StartLeakage = WindingLeakage,
            TurnsRatio = 1,
            CageResistance = CageResistance,
            CageLeakage = CageLeakage,
            MagnetisingInductance = MagnetisingInductance,
            Inertia = Inertia,
            ConstantTorque = Torque,
            RunHeatCapacity = HeatCapacity,
            StartHeatCapacity = HeatCapacity,
            RunThermalResistance = ThermalResistance,
            StartThermalResistance = ThermalResistance,
            Ambient = Ambient,
        });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps,
            States = StatePoints,
            LineFrequency = LineFrequency,
            SuggestedStop = Math.Max(ForwardOnAt + ForwardOnFor, ReverseOnAt + ReverseOnFor) + 6 / LineFrequency,
            SettledFrom = 0,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    /// <summary>
    /// A winding's capacitance to the core takes over its current when a contact opens; without it a winding that hangs on a dead capacitor has no voltage of its own. A contact that closes does not
    /// see it at once but by way of the motor's lead, whose first front is the voltage over its wave impedance: 120 ohm arcosh(D/d) for two wires of diameter d whose centres are D apart, 100 to 160 ohm
    /// for wires side by side, less some of it by their insulation (Reference Data for Radio Engineers, two-wire line in air; from memory).
    /// </summary>
    internal static void AddWindingCapacitances(Circuit circuit, params IReadOnlyList<string> nodes)
    {
        const double capacitance = 470e-12;
        const double waveImpedance = 120;
        for (var k = 0; k < nodes.Count; k++)
        {
            circuit.Add(new Capacitor($"C_winding{k + 1}", nodes[k], "neutral", capacitance) { SeriesResistance = waveImpedance });
        }
    }

    private void AddRelay(Circuit circuit, string way, double at, double lasts)
    {
        const double edge = 1e-6;
        var direct = Drive == CoilDrive.Direct;
        var (plus, minus) = direct ? ($"command-{way}", "ground") : ("rail", $"collector-{way}");
        circuit.Add(new VoltageSource($"V_{way}", $"command-{way}", "ground", new PulseWaveform { High = direct ? CommandVoltage : CoilStage.Logic, Delay = at, Rise = edge, Fall = edge, Width = lasts - edge }));
        if (!direct)
        {
            Stage(way).AddTo(circuit, $"command-{way}", minus, "ground", BaseResistance);
        }

        circuit.Add(new RelayCoil($"K_{way}", plus, minus, CoilResistance, 0.7, 1.1, PullInCurrent, DropOutCurrent) { OperateTravel = 3e-3, ReleaseTravel = 2e-3 });
        circuit.Add(new Diode($"D_{way}", minus, plus, Relays.DriverModels.FreeWheel));

        // An open contact of small relays has some ten megohms once its plastic is dirty.
        circuit.Add(new RelayContact($"S_{way}", "line", way, $"K_{way}") { OnResistance = ContactResistance, OffResistance = 50e6 });
    }

    private static CoilStage Stage(string way) => new(way, way == "forward" ? "Forward relay's" : "Reverse relay's", $"{way}-");
}
