using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.AcLoads;

/// <summary>
/// A relay's contact, the solder joint of its pin, and the heating element that they feed; contact and joint get warm by what they drop.
/// <code>
///          S_contact    J_contact    J_joint
///  line o-----o/ o--in----[===]--pin---[===]---load---[R_element]---o neutral
///               :  moved by K1                             : heat (W)
///                                                          v
///  coil-plus o--+---K1---+--o coil-minus                 heat o
///               +--|&lt;|---+
///                 D_free
/// </code>
/// </summary>
public sealed partial class SwitchedLoad : Block
{
    /// <inheritdoc/>
    public override string Id => "switched-load";

    /// <inheritdoc/>
    public override string Title => "Relay contact and solder joint that switch a heating element";

    /// <inheritdoc/>
    public override string Summary =>
        "Where the amperes go: contact, solder joint, element. Milliohms make watts there, so worn contacts and poor joints get hot, and a cracked joint "
        + "opens when it is warm and works again when it has cooled: the fault that is gone when the technician comes.";

    /// <inheritdoc/>
    public override string Topology => """
                 S_contact    J_contact    J_joint
         line o-----o/ o--in----[===]--pin---[===]---load---[R_element]---o neutral
                      :  moved by K1                             : heat (W)
                                                                 v
         coil-plus o--+---K1---+--o coil-minus                 heat o   (1 V is 1 degC, 1 A is 1 W)
                      +--|<|---+
                        D_free
         coil.drive: transistor puts coil-minus on ground by Q_coil; command --R_base_coil-- its base, R_pulldown_coil to ground
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <summary>RMS voltage of the bench's line in volts.</summary>
    [Quantity("line.voltage", "V", 1, 300, "RMS voltage of the bench's line.", OnBenchOnly = true)]
    public double LineVoltage { get; set; } = 120;

    /// <summary>What of the bench's line is computed.</summary>
    [Choice("line.detail", "What of the bench's line is computed: its sine, or its RMS value as if it were a direct voltage, for runs of hours.", OnBenchOnly = true)]
    public LineDetail BenchDetail
    {
        get => LineDetail;
        set => LineDetail = value;
    }

    /// <summary>Frequency of the bench's line in hertz.</summary>
    [Quantity("line.frequency", "Hz", 10, 1000, "Frequency of the bench's line.", OnBenchOnly = true)]
    public double LineFrequency { get; set; } = 60;

    /// <summary>Voltage of the bench's coil supply in volts.</summary>
    [Quantity("command.voltage", "V", 0, 60, "Voltage that the bench puts on the coil, or on its rail with coil.drive: transistor.", OnBenchOnly = true)]
    public double CommandVoltage { get; set; } = 12;

    /// <summary>Instant in seconds when the coil gets its voltage.</summary>
    [Quantity("command.on-at", "s", 0, 1e5, "When the coil gets its voltage.", OnBenchOnly = true)]
    public double OnAt { get; set; } = 20e-3;

    /// <summary>Instant in seconds when it loses it.</summary>
    [Quantity("command.off-at", "s", 1e-3, 1e6, "When the coil loses its voltage.", OnBenchOnly = true)]
    public double OffAt { get; set; } = 0.4;

    /// <summary>Thermal conductance of the bench in watts per kelvin.</summary>
    [Quantity("bench.conductance", "W/K", 1e-3, 1e3, "Heat that the bench takes from the element per kelvin above the room.", OnBenchOnly = true)]
    public double BenchConductance { get; set; } = 5;

    /// <summary>Temperature of the air about contact and joint in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of the air about the relay and its joint: 20 to 40 K above the room in an appliance's housing.")]
    public double Ambient { get; set; } = 308.15;

    /// <summary>What puts the coil on its voltage.</summary>
    [Choice("coil.drive", "What puts the coil on its voltage: whatever is wired to it, or a transistor that a processor's output drives.")]
    public CoilDrive Drive { get; set; } = CoilDrive.Direct;

    /// <summary>Base resistor of the transistor in ohms.</summary>
    [Quantity("base.resistance", "ohm", 100, 100e3, "Base resistor of the transistor; of use with coil.drive: transistor.")]
    public double BaseResistance { get; set; } = 4700;

    /// <summary>Resistance of the coil at 20 degC, in ohms.</summary>
    [Quantity("coil.resistance", "ohm", 1, 100e3, "Resistance of the coil at 20 degC; 150 to 400 ohm for 12 V relays of this size.")]
    public double CoilResistance { get; set; } = 270;

    /// <summary>Current at which the armature starts to close, in amperes.</summary>
    [Quantity("relay.pull-in", "A", 1e-4, 10, "Coil current at which the armature starts to close; 55 to 75 % of the rated one.")]
    public double PullInCurrent { get; set; } = 28e-3;

    /// <summary>Current at which it falls back, in amperes.</summary>
    [Quantity("relay.drop-out", "A", 1e-5, 10, "Coil current at which the armature falls back; 10 to 30 % of the rated one.")]
    public double DropOutCurrent { get; set; } = 7e-3;

    /// <summary>What the contact does with the current that it parts.</summary>
    [Choice("contact.arc", "Whether the parting contact breaks its current at once, or draws an arc that burns to the current's next zero.")]
    public ContactArc Arc { get; set; } = ContactArc.None;

    /// <summary>Voltage of the arc in volts.</summary>
    [Quantity("arc.voltage", "V", 8, 100, "Voltage of the arc; 12 V for silver just after parting, 20 to 30 V over a wide gap. Of use with contact.arc: burns.")]
    public double ArcVoltage { get; set; } = 12;

    /// <summary>Resistance of the closed contact in ohms.</summary>
    [Quantity("contact.resistance", "ohm", 1e-4, 100, "Resistance of the closed contact at 20 degC; 5 to 50 mohm when new.")]
    public double ContactResistance { get; set; } = 10e-3;

    /// <summary>Heat capacity of the contact with its springs in joules per kelvin.</summary>
    [Quantity("contact.heat-capacity", "J/K", 1e-3, 100, "Heat capacity of the contact with its springs.")]
    public double ContactHeatCapacity { get; set; } = 1;

    /// <summary>Thermal resistance of the contact in kelvin per watt.</summary>
    [Quantity("contact.thermal-resistance", "K/W", 0.1, 1000, "Thermal resistance from the contact to the air about the relay.")]
    public double ContactThermalResistance { get; set; } = 20;

    /// <summary>Resistance of the solder joint in ohms.</summary>
    [Quantity("joint.resistance", "ohm", 1e-5, 100, "Resistance of the solder joint at 20 degC; below a milliohm when sound.")]
    public double JointResistance { get; set; } = 0.5e-3;

    /// <summary>Heat capacity of the joint in joules per kelvin.</summary>
    [Quantity("joint.heat-capacity", "J/K", 1e-4, 100, "Heat capacity of the joint with its pad and pin.")]
    public double JointHeatCapacity { get; set; } = 0.3;

    /// <summary>Thermal resistance of the joint in kelvin per watt.</summary>
    [Quantity("joint.thermal-resistance", "K/W", 0.1, 1000, "Thermal resistance from the joint to the air and the board about it; less with wide tracks.")]
    public double JointThermalResistance { get; set; } = 30;

    /// <summary>Resistance of the element at 20 degC in ohms.</summary>
    [Quantity("element.resistance", "ohm", 0.1, 1e6, "Resistance of the element at 20 degC: 14.4 ohm make 1 kW at 120 V.")]
    public double ElementResistance { get; set; } = 14.4;

    /// <summary>Temperature coefficient of the element in 1/K.</summary>
    [Quantity("element.coefficient", "1/K", 0, 0.01, "Temperature coefficient of the element: 0.0001 to 0.0004 1/K for heating wire.")]
    public double ElementCoefficient { get; set; } = 2e-4;

    /// <summary>Heat capacity of the element in joules per kelvin.</summary>
    [Quantity("element.heat-capacity", "J/K", 0.1, 1e5, "Heat capacity of the element.")]
    public double ElementHeatCapacity { get; set; } = 150;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports =>
    [
        new() { Name = "line", Node = "line", Description = "Line." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
        new() { Name = "coil-plus", Node = "coil-plus", Description = "Rail of the relay's coil." },
        .. Drive == CoilDrive.Direct
            ? new[] { new Port { Name = "coil-minus", Node = "coil-minus", Description = "Other end of the coil: its driver, or board ground." } }
            :
            [
                new Port { Name = "command", Node = "command", Description = "From the processor: high puts the relay on." },
                new Port { Name = "ground", Node = "ground", Description = "Board ground." },
            ],
        new() { Name = "heat", Node = "heat", Description = "The element's temperature and the heat that it gives off, in a thermal circuit." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line", "V_rail", "V_command"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_line", "R_bond", "C_bond", "V_rail", "V_command", "R_command", "R_ground", "R_loss", "V_room"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(OffAt > OnAt))
        {
            yield return "command.off-at must be later than command.on-at.";
        }

        if (!(PullInCurrent > DropOutCurrent))
        {
            yield return "relay.pull-in must be above relay.drop-out.";
        }

        if (Arc == ContactArc.Burns && LineDetail == LineDetail.Rms)
        {
            yield return "contact.arc: burns needs the line's sine; on its RMS value, which has no zeros, an arc would burn for ever.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "line", "neutral", LoadPoints.Line(LineDetail, LineVoltage, LineFrequency)));
        LineWiring.AddBond(circuit);
        AddRelay(circuit);
        circuit.Add(new ThermalJoint("J_contact", "in", "pin", ContactResistance)
        {
            HeatCapacity = ContactHeatCapacity,
            ThermalResistance = ContactThermalResistance,
            Ambient = Ambient,
        });
        circuit.Add(new ThermalJoint("J_joint", "pin", "load", JointResistance)
        {
            HeatCapacity = JointHeatCapacity,
            ThermalResistance = JointThermalResistance,
            Ambient = Ambient,
            BreaksAtZero = LineDetail == LineDetail.Waveform,
        });
        circuit.Add(new HeatingElement("R_element", "load", "neutral", "heat", ElementResistance)
        {
            Coefficient = ElementCoefficient,
            HeatCapacity = ElementHeatCapacity,
            StartTemperature = 298.15,
        });
        circuit.Add(new Resistor("R_loss", "heat", "room", 1 / BenchConductance));
        circuit.Add(new VoltageSource("V_room", "room", Circuit.Ground, 25));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps,
            Readouts = Temperatures,
            States = StatePoints,
            LineFrequency = LineDetail == LineDetail.Rms ? null : LineFrequency,
            LineByRms = LineDetail == LineDetail.Rms,
            SuggestedStop = OffAt + 3 / LineFrequency,
            SettledFrom = 0,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddRelay(Circuit circuit)
    {
        const double edge = 1e-6;
        var command = new PulseWaveform { High = Drive == CoilDrive.Direct ? CommandVoltage : CoilStage.Logic, Delay = OnAt, Rise = edge, Fall = edge, Width = OffAt - OnAt - edge };
        if (Drive == CoilDrive.Direct)
        {
            circuit.Add(new VoltageSource("V_command", "supply", "coil-minus", command));
            circuit.Add(new Resistor("R_ground", "coil-minus", Circuit.Ground, 1e-3));
        }
        else
        {
            circuit.Add(new VoltageSource("V_rail", "supply", "ground", CommandVoltage));
            circuit.Add(new VoltageSource("V_command", "command", "ground", command));
            circuit.Add(new Resistor("R_ground", "ground", Circuit.Ground, 1e-3));
            Stage.AddTo(circuit, "command", "coil-minus", "ground", BaseResistance);
        }

        circuit.Add(new Resistor("R_command", "supply", "coil-plus", 5));
        circuit.Add(new RelayCoil("K1", "coil-plus", "coil-minus", CoilResistance, 0.5, 0.8, PullInCurrent, DropOutCurrent)
        {
            OperateTravel = 4e-3,
            ReleaseTravel = 2.5e-3,
            OperateBounce = LineDetail == LineDetail.Waveform ? [0.3e-3, 0.8e-3, 1.1e-3, 1.4e-3] : [],
        });
        circuit.Add(new Diode("D_free", "coil-minus", "coil-plus", Relays.DriverModels.For(LineDetail, Relays.DriverModels.FreeWheel)));
        // What the coil is wound with lies close together: without it a contact that parts before the coil leaves a node with nothing to set its voltage.
        circuit.Add(new Capacitor("C_coil", "coil-plus", "coil-minus", LineDetail == LineDetail.Rms ? 10e-9 : 100e-12) { SeriesResistance = 100 });
        circuit.Add<Device>(Arc == ContactArc.Burns
            ? new ArcingContact("S_contact", "line", "in", "K1") { OnResistance = 1e-4, ArcVoltage = ArcVoltage }
            : new RelayContact("S_contact", "line", "in", "K1") { OnResistance = 1e-4 });
    }
}
