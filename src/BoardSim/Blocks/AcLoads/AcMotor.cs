using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.AcLoads;

/// <summary>
/// Single-phase induction motor with run and start winding.
/// <code>
///  capacitor-run                                  split-phase, capacitor-start
///  line o--[J_protector]--+--------- run          line o--[J_protector]--+--K_start coil--- run
///                         |          M1                                  |    :             M1
///                         +-C_phase- start                               +--o/ o--C_phase-- start
///                                                                                 (not in split-phase)
///  (other ends of both windings on neutral; R_lead is the start winding's lead)
/// </code>
/// </summary>
public sealed partial class AcMotor : Block
{
    private const double SixtyHertz = 2 * Math.PI * 60;

    /// <inheritdoc/>
    public override string Id => "ac-motor";

    /// <inheritdoc/>
    public override string Title => "Single-phase motor with run and start winding";

    /// <inheritdoc/>
    public override string Summary =>
        "Circulating fan, drain pump or compressor. One winding alone makes a field that swings but does not turn: without its start winding or capacitor the motor hums, "
        + "draws its locked-rotor current and burns, unless somebody gives it a push, and then it runs whichever way it was pushed.";

    /// <inheritdoc/>
    public override string Topology => """
         capacitor-run                                  split-phase, capacitor-start
         line o--[J_protector]--+--------- run          line o--[J_protector]--+--K_start coil--- run
                                |          M1                                  |    :             M1
                                +-C_phase- start                               +--o/ o--C_phase-- start
                                                                                        (not in split-phase)
         (other ends of both windings on neutral; R_lead is the start winding's lead)
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

    /// <summary>Resistance of the bench's line in ohms.</summary>
    [Quantity("line.resistance", "ohm", 1e-3, 100, "Resistance of the bench's line: wiring, relay contact, connectors.", OnBenchOnly = true)]
    public double LineResistance { get; set; } = 0.3;

    /// <summary>What makes the second phase.</summary>
    [Choice("kind", "What makes the second phase: a capacitor for good, a start winding of thin wire, or a start capacitor, the last two with a start relay.")]
    public MotorKind Kind { get; set; }

    /// <summary>Temperature of what surrounds the motor in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of what surrounds the motor.")]
    public double Ambient { get; set; } = 308.15;

    /// <summary>Resistance of the run winding in ohms; null for the kind's usual one.</summary>
    [Quantity("run.resistance", "ohm", 0.01, 1e5, "Resistance of the run winding at 20 degC; 30 ohm for a small fan, 2 ohm for a 180 W motor unless set.")]
    public double? RunResistance { get; set; }

    /// <summary>Leakage inductance of the run winding in henries; null for the kind's usual one.</summary>
    [Quantity("run.leakage", "H", 1e-5, 100, "Leakage inductance of the run winding; the kind's usual one unless set.")]
    public double? RunLeakage { get; set; }

    /// <summary>Resistance of the start winding in ohms; null for the kind's usual one.</summary>
    [Quantity("start.resistance", "ohm", 0.01, 1e5, "Resistance of the start winding at 20 degC; thin wire where it has to make the phase by itself; the kind's usual one unless set.")]
    public double? StartResistance { get; set; }

    /// <summary>Leakage inductance of the start winding in henries; null for the kind's usual one.</summary>
    [Quantity("start.leakage", "H", 1e-5, 100, "Leakage inductance of the start winding; the kind's usual one unless set.")]
    public double? StartLeakage { get; set; }

    /// <summary>Turns of the start winding over those of the run winding; null for the kind's usual ratio.</summary>
    [Quantity("start.turns-ratio", "", 0.05, 20, "Turns of the start winding over those of the run winding; the kind's usual ratio unless set.")]
    public double? TurnsRatio { get; set; }

    /// <summary>Resistance of the cage in ohms, seen from the run winding; null for the kind's usual one.</summary>
    [Quantity("cage.resistance", "ohm", 0.01, 1e5, "Resistance of the rotor's cage, seen from the run winding; the kind's usual one unless set.")]
    public double? CageResistance { get; set; }

    /// <summary>Leakage inductance of the cage in henries, seen from the run winding; null for the kind's usual one.</summary>
    [Quantity("cage.leakage", "H", 1e-5, 100, "Leakage inductance of the rotor's cage, seen from the run winding; the kind's usual one unless set.")]
    public double? CageLeakage { get; set; }

    /// <summary>Magnetising inductance in henries, seen from the run winding; null for the kind's usual one.</summary>
    [Quantity("magnetising.inductance", "H", 1e-4, 1000, "Magnetising inductance, seen from the run winding; the kind's usual one unless set.")]
    public double? MagnetisingInductance { get; set; }

    /// <summary>Pairs of poles.</summary>
    [Quantity("pole-pairs", "", 1, 12, "Pairs of poles, rounded to a whole number: two make 1800 rpm of synchronous speed at 60 Hz.")]
    public double PolePairs { get; set; } = 2;

    /// <summary>Capacitance of the run or start capacitor in farads; null for the kind's usual one.</summary>
    [Quantity("capacitor.capacitance", "F", 1e-9, 1e-2, "Capacitance of the run or start capacitor; microfarads to run, hundreds of them to start; the kind's usual one unless set.")]
    public double? Capacitance { get; set; }

    /// <summary>RMS current in amperes at which the start relay closes; null for the kind's usual one.</summary>
    [Quantity("start-relay.pull-in", "A", 1e-3, 1000, "RMS current of the run winding at which the start relay closes; half to two thirds of the locked-rotor current.")]
    public double? StartPullIn { get; set; }

    /// <summary>RMS current in amperes at which the start relay opens, as a share of the other.</summary>
    [Quantity("start-relay.drop-out", "", 0.05, 0.99, "RMS current at which the start relay opens, as a share of that at which it closes.")]
    public double StartDropOut { get; set; } = 0.82;

    /// <summary>Torque in newton metres that a fan or pump takes at 1500 rpm; null for the kind's usual one.</summary>
    [Quantity("load.fan-torque", "Nm", 0, 1000, "Torque that a fan or pump takes at 1500 rpm, going with the square of the speed; the kind's usual one unless set.")]
    public double? FanTorque { get; set; }

    /// <summary>Torque in newton metres that bearings and load take at any speed; null for the kind's usual one.</summary>
    [Quantity("load.constant-torque", "Nm", 0, 1000, "Torque that bearings and load take at any speed; the kind's usual one unless set.")]
    public double? ConstantTorque { get; set; }

    /// <summary>Moment of inertia in kilogram square metres; null for the kind's usual one.</summary>
    [Quantity("load.inertia", "kgm2", 1e-8, 100, "Moment of inertia of rotor and load; the kind's usual one unless set.")]
    public double? Inertia { get; set; }

    /// <summary>Speed at the start in radians per second.</summary>
    [Quantity("push", "rpm", -400, 400, "Speed at switch-on: a push by hand.")]
    public double Push { get; set; }

    /// <summary>Heat capacity of the run winding in joules per kelvin; null for the kind's usual one.</summary>
    [Quantity("run.heat-capacity", "J/K", 1e-3, 1e6, "Heat capacity of the run winding; the kind's usual one unless set.")]
    public double? RunHeatCapacity { get; set; }

    /// <summary>Heat capacity of the start winding in joules per kelvin; null for the kind's usual one.</summary>
    [Quantity("start.heat-capacity", "J/K", 1e-3, 1e6, "Heat capacity of the start winding; the kind's usual one unless set.")]
    public double? StartHeatCapacity { get; set; }

    /// <summary>Whether a protector is fitted.</summary>
    [Choice("protector", "Whether a bimetal protector, heated by the motor's current, takes the motor off when it is hot.")]
    public MotorProtector Protector { get; set; }

    /// <summary>Resistance of the protector's heater in ohms.</summary>
    [Quantity("protector.resistance", "ohm", 1e-4, 100, "Resistance of the protector's disc and heater.")]
    public double ProtectorResistance { get; set; } = 25e-3;

    /// <summary>Heat capacity of the protector in joules per kelvin.</summary>
    [Quantity("protector.heat-capacity", "J/K", 1e-3, 1000, "Heat capacity of the protector's disc.")]
    public double ProtectorHeatCapacity { get; set; } = 0.5;

    /// <summary>Thermal resistance of the protector in kelvin per watt.</summary>
    [Quantity("protector.thermal-resistance", "K/W", 0.01, 1000, "Thermal resistance from the protector's disc to what surrounds the motor.")]
    public double ProtectorThermalResistance { get; set; } = 30;

    /// <summary>Temperature in kelvin at which the protector opens.</summary>
    [Quantity("protector.opens-at", "degC", 313.15, 573.15, "Temperature at which the protector opens.")]
    public double ProtectorOpensAt { get; set; } = 393.15;

    /// <summary>Temperature in kelvin at which the protector closes again.</summary>
    [Quantity("protector.closes-at", "degC", 273.15, 573.15, "Temperature at which the protector closes again.")]
    public double ProtectorClosesAt { get; set; } = 338.15;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line", Node = "line", Description = "Switched line." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_line", "R_line", "R_bond", "C_bond"];

    private bool HasCapacitor => Kind != MotorKind.SplitPhase;

    private bool HasStartRelay => Kind != MotorKind.CapacitorRun;

    private MotorDefaults Usual => Kind switch
    {
        MotorKind.CapacitorRun => MotorDefaults.Fan,
        MotorKind.SplitPhase => MotorDefaults.SplitPhase,
        _ => MotorDefaults.CapacitorStart,
    };

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(ProtectorOpensAt > ProtectorClosesAt))
        {
            yield return "protector.opens-at must be above protector.closes-at.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "outlet", "neutral", new SineWaveform { Amplitude = Math.Sqrt(2) * LineVoltage, Frequency = LineFrequency }));
        circuit.Add(new Resistor("R_line", "outlet", "line", LineResistance));
        LineWiring.AddBond(circuit);
        circuit.Add(new ThermalJoint("J_protector", "line", "motor", Protector == MotorProtector.Fitted ? ProtectorResistance : 1e-3)
        {
            HeatCapacity = ProtectorHeatCapacity,
            ThermalResistance = ProtectorThermalResistance,
            Ambient = Ambient,
            OpensAt = Protector == MotorProtector.Fitted ? ProtectorOpensAt : null,
            ClosesAt = ProtectorClosesAt,
            BreaksAtZero = true,
        });
        AddStartPath(circuit);
        MotorReversal.AddWindingCapacitances(circuit, "run", "start");
        circuit.Add(Machine());
        var settles = Kind == MotorKind.CapacitorRun ? 1.2 : 1.0;
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps,
            States = MotorStates(),
            LineFrequency = LineFrequency,
            SuggestedStop = settles,
            SettledFrom = settles - 6 / LineFrequency,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddStartPath(Circuit circuit)
    {
        var farads = Capacitance ?? Usual.Capacitance;
        if (HasStartRelay)
        {
            var amperes = StartPullIn ?? Usual.PullIn;
            circuit.Add(new StartRelay("K_start", "motor", "run", "motor", HasCapacitor ? "capacitor" : "lead", amperes, amperes * StartDropOut));
        }
        else
        {
            circuit.Add(new Resistor("R_run", "motor", "run", 1e-3));
        }

        if (HasCapacitor)
        {
            // An electrolytic start capacitor loses some percent; a film run capacitor next to nothing.
            var loss = HasStartRelay ? 0.08 : 0.003;
            circuit.Add(new Capacitor("C_phase", HasStartRelay ? "capacitor" : "motor", "lead", farads) { SeriesResistance = loss / (SixtyHertz * farads) });
        }

        circuit.Add(new Resistor("R_lead", "lead", "start", 1e-3));
    }

    private SinglePhaseMotor Machine()
    {
        var u = Usual;
        var fan = 1500 * Math.PI / 30;
        return new SinglePhaseMotor("M1", "run", "neutral", "start", "neutral")
        {
            RunResistance = RunResistance ?? u.Run.Resistance,
            RunLeakage = RunLeakage ?? u.Run.Reactance / SixtyHertz,
            StartResistance = StartResistance ?? u.Start.Resistance,
            StartLeakage = StartLeakage ?? u.Start.Reactance / SixtyHertz,
            TurnsRatio = TurnsRatio ?? u.Ratio,
            CageResistance = CageResistance ?? u.Cage.Resistance,
            CageLeakage = CageLeakage ?? u.Cage.Reactance / SixtyHertz,
            MagnetisingInductance = MagnetisingInductance ?? u.Magnetising / SixtyHertz,
            PolePairs = (int)Math.Round(PolePairs),
            Inertia = Inertia ?? u.Inertia,
            FanTorque = (FanTorque ?? u.FanTorque) / (fan * fan),
            ConstantTorque = ConstantTorque ?? u.ConstantTorque,
            StartSpeed = Push,
            RunHeatCapacity = RunHeatCapacity ?? u.HeatCapacity.Run,
            StartHeatCapacity = StartHeatCapacity ?? u.HeatCapacity.Start,
            RunThermalResistance = u.ThermalResistance.Run,
            StartThermalResistance = u.ThermalResistance.Start,
            Ambient = Ambient,
        };
    }
}
