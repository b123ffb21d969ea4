using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Relays;

/// <summary>
/// Relay and its driver, commanded by a processor's port.
/// <code>
///  V_rail  R_rail
///   (+)-----/\/\----rail--+-----------+------------+-----||--- ground
///                         |           |            |   C_rail
///                      coil K1     D_free      S_contact (moved by K1)
///                      (C_coil)   (cathode         |
///                         |        at rail)     contact
///                         |           |            |
///                     collector-------+            |
///                         |                        |
///   V_port R_port  R_base |/                 R_contact_load
///   (+)-/\/\--port-/\/\---|  Q_switch              |
///                    base |\  (D_breakdown:        |
///                    |      |  base to collector)  |
///               R_pulldown  |                      |
///   ground ----------+------+----------------------+
/// </code>
/// A resistor (R_free) or a Zener diode (D_zener) may stand between D_free and the rail, for a faster release, or R_free and C_free in the place of D_free.
/// Darlington: two transistors behind each other with their base-emitter resistors. None: the coil hangs between port and ground.
/// </summary>
public sealed partial class RelayDriver : Block
{
    /// <inheritdoc/>
    public override string Id => "relay-driver";

    /// <inheritdoc/>
    public override string Title => "Relay with transistor driver and free-wheel diode";

    /// <inheritdoc/>
    public override string Summary =>
        "Lets a processor that can give milliamperes switch a load that takes amperes. Shows why the transistor is needed, what the "
        + "free-wheel diode saves it from and what that costs in release time, and when a hot coil on a low rail no longer pulls in.";

    /// <inheritdoc/>
    public override string Topology => """
         V_rail  R_rail
          (+)-----/\/\----rail--+-----------+------------+-----||--- ground
                                |           |            |   C_rail
                             coil K1     D_free      S_contact (moved by K1)
                             (C_coil)   (cathode         |
                                |        at rail)     contact
                                |           |            |
                            collector-------+            |
                                |                        |
          V_port R_port  R_base |/                 R_contact_load
          (+)-/\/\--port-/\/\---|  Q_switch              |
                           base |\  (D_breakdown:        |
                           |      |  base to collector)  |
                      R_pulldown  |                      |
          ground ----------+------+----------------------+
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Voltage of the coil's rail, in volts.</summary>
    [Quantity("rail.voltage", "V", 1, 60, "Voltage of the rail that feeds the coil.", OnBenchOnly = true)]
    public double RailVoltage { get; set; } = 12;

    /// <summary>Source resistance of the rail, in ohms.</summary>
    [Quantity("rail.resistance", "ohm", 1e-3, 1000, "Source resistance of the rail: supply, wiring and connectors.", OnBenchOnly = true)]
    public double RailResistance { get; set; } = 0.5;

    /// <summary>Voltage of the port when high, in volts.</summary>
    [Quantity("port.voltage", "V", 1, 24, "Voltage of the processor's port when it is high and unloaded.", OnBenchOnly = true)]
    public double PortVoltage { get; set; } = 5;

    /// <summary>Output resistance of the port, in ohms.</summary>
    [Quantity("port.resistance", "ohm", 0.1, 10e3, "Output resistance of the processor's port; 20 to 60 ohm.", OnBenchOnly = true)]
    public double PortResistance { get; set; } = 30;

    /// <summary>Instant in seconds when the port goes high.</summary>
    [Quantity("port.on-at", "s", 0, 1000, "When the port goes high.", OnBenchOnly = true)]
    public double OnAt { get; set; } = 5e-3;

    /// <summary>Instant in seconds when the port goes low again.</summary>
    [Quantity("port.off-at", "s", 1e-6, 1000, "When the port goes low again.", OnBenchOnly = true)]
    public double OffAt { get; set; } = 45e-3;

    /// <summary>What switches the coil.</summary>
    [Choice("driver", "What switches the coil: an NPN transistor, a Darlington channel, or the port itself.")]
    public CoilDriver Driver { get; set; } = CoilDriver.Npn;

    /// <summary>Base resistor in ohms; null for the usual one of the driver.</summary>
    [Quantity("base.resistance", "ohm", 10, 1e6, "Resistor between port and base; 4.7 kohm for an NPN and 2.7 kohm for a Darlington channel unless set.")]
    public double? BaseResistance { get; set; }

    /// <summary>Resistance from base to emitter, in ohms.</summary>
    [Quantity("base.pull-down", "ohm", 100, 1e9, "Resistor from base to ground of an NPN; keeps it off while the processor is in reset.")]
    public double PullDown { get; set; } = 47e3;

    /// <summary>Forward current gain of the (output) transistor.</summary>
    [Quantity("transistor.gain", "", 0.1, 2000, "Forward current gain of the transistor, of the output transistor in a Darlington.")]
    public double Gain { get; set; } = 250;

    /// <summary>Collector-base breakdown voltage, in volts.</summary>
    [Quantity("transistor.breakdown", "V", 20, 1000, "Voltage at which collector to base breaks down; 60 to 90 V for a 45 V transistor.")]
    public double Breakdown { get; set; } = 70;

    /// <summary>What stands in series with the free-wheel diode.</summary>
    [Choice("free-wheel", "Path of the coil's current after turn-off: a diode alone, or with a resistor or a Zener diode in series for a faster release, or a resistor and a capacitor in series.")]
    public FreeWheelPath FreeWheel { get; set; } = FreeWheelPath.Diode;

    /// <summary>Resistor in series with the free-wheel diode, in ohms; of use with <see cref="FreeWheelPath.DiodeAndResistor"/> and <see cref="FreeWheelPath.ResistorAndCapacitor"/>.</summary>
    [Quantity("free-wheel.resistance", "ohm", 0.1, 100e3, "Resistor in series with the free-wheel diode or capacitor; about the coil's own resistance.")]
    public double FreeWheelResistance { get; set; } = 390;

    /// <summary>Voltage of the Zener diode in series with the free-wheel diode, in volts; of use with <see cref="FreeWheelPath.DiodeAndZener"/>.</summary>
    [Quantity("free-wheel.zener-voltage", "V", 2, 400, "Zener diode in series with the free-wheel diode; one to three times the rail, and rail plus Zener below the transistor's breakdown.")]
    public double FreeWheelZenerVoltage { get; set; } = 24;

    /// <summary>Capacitor across the coil, in farads; of use with <see cref="FreeWheelPath.ResistorAndCapacitor"/>.</summary>
    [Quantity("free-wheel.capacitance", "F", 1e-10, 1e-3, "Capacitor in series with a resistor across the coil; with the coil's current I and inductance L it swings to some I sqrt(L/C).")]
    public double FreeWheelCapacitance { get; set; } = 1e-6;

    /// <summary>Resistance of the coil at 20 degC, in ohms.</summary>
    [Quantity("coil.resistance", "ohm", 1, 100e3, "Resistance of the coil at 20 degC; 270 to 720 ohm for small 12 V relays.")]
    public double CoilResistance { get; set; } = 400;

    /// <summary>Temperature of the coil, in kelvin.</summary>
    [Quantity("coil.temperature", "degC", 218.15, 473.15, "Temperature of the winding: the air's plus what the coil heats itself, 20 to 40 K when on for long.")]
    public double CoilTemperature { get; set; } = 293.15;

    /// <summary>Inductance with the armature released, in henries.</summary>
    [Quantity("coil.released-inductance", "H", 1e-3, 100, "Inductance with the armature released.")]
    public double ReleasedInductance { get; set; } = 0.7;

    /// <summary>Inductance with the armature pulled in, in henries.</summary>
    [Quantity("coil.pulled-in-inductance", "H", 1e-3, 200, "Inductance with the armature pulled in; about one and a half times the released one.")]
    public double PulledInInductance { get; set; } = 1.1;

    /// <summary>Capacitance of the winding, in farads.</summary>
    [Quantity("coil.capacitance", "F", 1e-12, 1e-6, "Capacitance of the winding and the wiring.")]
    public double CoilCapacitance { get; set; } = 100e-12;

    /// <summary>Current at which the armature starts to close, in amperes.</summary>
    [Quantity("relay.pull-in", "A", 1e-4, 10, "Coil current at which the armature starts to close; 55 to 75 % of the rated one.")]
    public double PullInCurrent { get; set; } = 19.5e-3;

    /// <summary>Current at which it falls back, in amperes.</summary>
    [Quantity("relay.drop-out", "A", 1e-5, 10, "Coil current at which the armature falls back; 10 to 30 % of the rated one.")]
    public double DropOutCurrent { get; set; } = 5e-3;

    /// <summary>Travel time of the armature when closing, in seconds.</summary>
    [Quantity("relay.operate-travel", "s", 0, 1, "Time that the armature needs from released to pulled in.")]
    public double OperateTravel { get; set; } = 3e-3;

    /// <summary>Travel time of the armature when opening, in seconds.</summary>
    [Quantity("relay.release-travel", "s", 0, 1, "Time that the armature needs back.")]
    public double ReleaseTravel { get; set; } = 2e-3;

    /// <summary>Time for which the contact bounces, in seconds.</summary>
    [Quantity("contact.bounce", "s", 0, 0.1, "Time for which the contact bounces after it first touches; 0.5 to 3 ms.")]
    public double Bounce { get; set; } = 1e-3;

    /// <summary>Resistance of the closed contact, in ohms.</summary>
    [Quantity("contact.resistance", "ohm", 1e-4, 1000, "Resistance of the closed contact; some tens of milliohms when new.")]
    public double ContactResistance { get; set; } = 0.02;

    /// <summary>Resistance of the load behind the contact, in ohms.</summary>
    [Quantity("contact.load", "ohm", 0.1, 1e9, "Resistance of the load that the contact connects to the rail.", OnBenchOnly = true)]
    public double ContactLoad { get; set; } = 1000;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "rail", Node = "rail", Description = "Rail that feeds the coil." },
        new() { Name = "ground", Node = "0", Description = "Board ground." },
        new() { Name = "command", Node = "port", Description = "From the processor's output: high pulls the relay in." },
        new() { Name = "contact-in", Node = "feed", Description = "One side of the contact: rail or line." },
        new() { Name = "contact-out", Node = "contact", Description = "Other side of the contact: the load." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_rail", "V_port"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_rail", "R_rail", "V_port", "R_port", "R_feed", "R_contact_load"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(OffAt > OnAt))
        {
            yield return $"port.off-at must be later than port.on-at.";
        }

        if (!(PullInCurrent > DropOutCurrent))
        {
            yield return "relay.pull-in must be above relay.drop-out.";
        }

        if (PulledInInductance < ReleasedInductance)
        {
            yield return "coil.pulled-in-inductance must not be below coil.released-inductance: closing the gap raises it.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_rail", "source", "0", RailVoltage));
        circuit.Add(new Resistor("R_rail", "source", "rail", RailResistance));
        circuit.Add(new Capacitor("C_rail", "rail", "0", 100e-9));
        AddPort(circuit);
        AddDriver(circuit);
        AddRelay(circuit);
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States =
            [
                new() { Name = "armature", Part = "K1", State = "position", Unit = "", Description = "Position of the armature: 0 released, 1 pulled in." },
                new() { Name = "contact-closed", Part = "K1", State = "made", Unit = "", Description = "1 while the contact touches." },
            ],
            SuggestedStop = OffAt + Math.Max(OffAt - OnAt, 10 * PulledInInductance / CoilResistance),
        };
    }

    private string CoilPlus => Driver == CoilDriver.None ? "port" : "rail";

    private string CoilMinus => Driver == CoilDriver.None ? "0" : "collector";

    private void AddPort(Circuit circuit)
    {
        const double edge = 100e-9;
        circuit.Add(new VoltageSource("V_port", "output", "0", new PulseWaveform
        {
            High = PortVoltage,
            Delay = OnAt,
            Rise = edge,
            Fall = edge,
            Width = OffAt - OnAt - edge,
        }));
        circuit.Add(new Resistor("R_port", "output", "port", PortResistance));
    }

    private void AddDriver(Circuit circuit)
    {
        if (Driver == CoilDriver.None)
        {
            return;
        }

        circuit.Add(new Resistor("R_base", "port", "base", BaseResistance ?? (Driver == CoilDriver.Npn ? 4700 : 2700)));
        if (Driver == CoilDriver.Npn)
        {
            circuit.Add(new BipolarTransistor("Q_switch", "collector", "base", "0", DriverModels.For(LineDetail, DriverModels.SmallNpn(Gain))));
            circuit.Add(new Resistor("R_pulldown", "base", "0", PullDown));
        }
        else
        {
            circuit.Add(new BipolarTransistor("Q_first", "collector", "base", "second", DriverModels.For(LineDetail, DriverModels.SmallNpn(100))));
            circuit.Add(new BipolarTransistor("Q_switch", "collector", "second", "0", DriverModels.For(LineDetail, DriverModels.DarlingtonOutput(Gain))));
            circuit.Add(new Resistor("R_first", "base", "second", 7200));
            circuit.Add(new Resistor("R_second", "second", "0", 3000));
        }

        // A Darlington breaks down at its output transistor: it is the larger one. Into the first base, two current gains and the coil's
        // capacitance would make a loop that oscillates at megahertz for as long as the breakdown lasts.
        circuit.Add(new Diode("D_breakdown", Driver == CoilDriver.Npn ? "base" : "second", "collector", DriverModels.For(LineDetail, DriverModels.Breakdown(Breakdown))));
    }

    private void AddRelay(Circuit circuit)
    {
        circuit.Add(new RelayCoil("K1", CoilPlus, CoilMinus, CoilResistance, ReleasedInductance, PulledInInductance, PullInCurrent, DropOutCurrent)
        {
            Temperature = CoilTemperature,
            OperateTravel = OperateTravel,
            ReleaseTravel = ReleaseTravel,

            // Two hops, the second lower and shorter.
            OperateBounce = Bounce > 0 && LineDetail == LineDetail.Waveform ? [0.2 * Bounce, 0.6 * Bounce, 0.8 * Bounce, Bounce] : [],
        });
        circuit.Add(LineDetail == LineDetail.Rms
            ? new Capacitor("C_coil", CoilPlus, CoilMinus, Math.Max(CoilCapacitance, 10e-9)) { SeriesResistance = 100 }
            : new Capacitor("C_coil", CoilPlus, CoilMinus, CoilCapacitance));
        AddFreeWheel(circuit);
        circuit.Add(new Resistor("R_feed", "rail", "feed", 1e-4));
        circuit.Add(new RelayContact("S_contact", "feed", "contact", "K1") { OnResistance = ContactResistance });
        circuit.Add(new Resistor("R_contact_load", "contact", "0", ContactLoad));
    }

    private void AddFreeWheel(Circuit circuit)
    {
        if (FreeWheel == FreeWheelPath.ResistorAndCapacitor)
        {
            circuit.Add(new Capacitor("C_free", CoilMinus, "free-wheel", FreeWheelCapacitance) { SeriesResistance = 0.1 });
            circuit.Add(new Resistor("R_free", "free-wheel", CoilPlus, FreeWheelResistance));
            return;
        }

        var cathode = FreeWheel == FreeWheelPath.Diode ? CoilPlus : "free-wheel";
        circuit.Add(new Diode("D_free", CoilMinus, cathode, DriverModels.For(LineDetail, DriverModels.FreeWheel)));
        if (FreeWheel == FreeWheelPath.DiodeAndResistor)
        {
            circuit.Add(new Resistor("R_free", cathode, CoilPlus, FreeWheelResistance));
        }
        else if (FreeWheel == FreeWheelPath.DiodeAndZener)
        {
            circuit.Add(new Diode("D_zener", CoilPlus, cathode, DriverModels.Zener(FreeWheelZenerVoltage)));
        }
    }
}
