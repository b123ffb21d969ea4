using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Blocks.Converters;

/// <summary>
/// Flyback supply with its loop closed: current-mode controller with start-up and auxiliary supply, opto-coupler and shunt reference,
/// clamp, output rectifier, two output capacitors and a post filter, in switching or in cycle-averaged detail.
/// </summary>
public sealed partial class FlybackSupply : Block
{
    private const string Controller = "U_control";

    /// <inheritdoc/>
    public override string Id => "flyback-supply";

    /// <inheritdoc/>
    public override string Title => "Flyback supply with closed loop";

    /// <inheritdoc/>
    public override string Summary =>
        "Makes the low-voltage rail from the bulk capacitor and keeps it constant through an opto-coupler. Shows start-up through the start resistor and the "
        + "auxiliary winding, the reaction to load steps and to line ripple, current limit and hiccup, and what the rail does when a part of "
        + "the loop fails. Two levels of detail: every switching cycle, or averaged over it.";

    /// <inheritdoc/>
    public override string Topology => """
         bulk o--+--------+-------+----------+           D_out   rect          L_post
                 |        |       |          |       +----|>|----+-----+--------UUUU---+------ rail
             R_start   R_clamp// C_clamp  L_leakage  |           |     |               |
                 |        +---+---+          |    L_secondary  C_out1 C_out2         C_post
                 |          clamp         L_primary  |           |     |               |
                 |         D_clamp           |       +-----------+-----+---------------+------ ground
                 |            +---------+--drain
                 |                      |                rect--R_led--+            rail
         vcc ----+--R_aux--D_aux--L_auxiliary                        LED |> ~~>       |
                 |                      |                             |           R_upper
               C_vcc   U_control      S_switch (gate)              cathode --C_comp--R_comp--+-- ref
                 |     sense ---+---- source                         |                      |
                 |              |       |                         U_ref <-------------- R_lower
         return o+--------------|----R_sense                          |
                 +--- feedback --- opto transistor ~~> C_feedback   ground
         C_pin and Z_vcc, the controller's zener diode, lie beside C_vcc, Z_switch, its breakdown, beside S_switch.
         (averaged detail: U_control stands for switch, windings and rectifiers as well)
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <summary>How closely it is computed.</summary>
    [Choice("detail", "Every switching cycle, or averaged over the switching cycle.")]
    public ConverterDetail Detail { get; set; } = ConverterDetail.Averaged;

    /// <summary>Bulk voltage of the bench, in volts.</summary>
    [Quantity("input.voltage", "V", 20, 450, "Mean bulk voltage of the bench.", OnBenchOnly = true)]
    public double InputVoltage { get; set; } = 160;

    /// <summary>Ripple of the bench's bulk voltage from peak to peak, in volts.</summary>
    [Quantity("input.ripple", "V", 0, 200, "Ripple of the bench's bulk voltage from peak to peak.", OnBenchOnly = true)]
    public double InputRipple { get; set; }

    /// <summary>Frequency of that ripple in hertz.</summary>
    [Quantity("input.ripple-frequency", "Hz", 10, 1000, "Frequency of that ripple: twice the line's.", OnBenchOnly = true)]
    public double RippleFrequency { get; set; } = 120;

    /// <summary>Resistance of the bench's load in ohms.</summary>
    [Quantity("load.resistance", "ohm", 0.01, 1e6, "Resistance of the bench's load.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 10;

    /// <summary>Instant in seconds when a second load is switched on; null for never.</summary>
    [Quantity("load.step-at", "s", 1e-6, 1000, "When the bench switches a second load on; never unless set.", OnBenchOnly = true)]
    public double? StepAt { get; set; }

    /// <summary>Time in seconds that the second load stays on.</summary>
    [Quantity("load.step-for", "s", 1e-6, 1000, "How long the second load stays on.", OnBenchOnly = true)]
    public double StepFor { get; set; } = 20e-3;

    /// <summary>Resistance of the second load in ohms.</summary>
    [Quantity("load.step-resistance", "ohm", 0.001, 1e6, "Resistance of the second load.", OnBenchOnly = true)]
    public double StepResistance { get; set; } = 20;

    /// <summary>Small signal of the bench in the loop, for the loop gain: volts between rail and divider.</summary>
    [Quantity("loop.signal", "V", 0, 1, "Small signal that the bench puts between rail and divider, for the loop gain.", OnBenchOnly = true)]
    public double LoopSignal { get; set; }

    /// <summary>Small signal current into the rail, for the output impedance.</summary>
    [Quantity("load.signal", "A", 0, 1, "Small signal that the bench pushes into the rail, for the output impedance.", OnBenchOnly = true)]
    public double LoadSignal { get; set; }

    /// <summary>Start resistor in ohms.</summary>
    [Quantity("start.resistance", "ohm", 1e3, 100e6, "Resistor that charges the controller's supply from the bulk capacitor; 100 kohm to 1 Mohm.")]
    public double StartResistance { get; set; } = 330e3;

    /// <summary>Capacitance of the controller's supply in farads.</summary>
    [Quantity("vcc.capacitance", "F", 100e-9, 10e-3, "Capacitor of the controller's supply; it has to carry the controller until the auxiliary winding does.")]
    public double VccCapacitance { get; set; } = 22e-6;

    /// <summary>Series resistance of that capacitor in ohms.</summary>
    [Quantity("vcc.esr", "ohm", 1e-3, 1000, "Series resistance of that capacitor at 25 degC.")]
    public double VccEsr { get; set; } = 0.8;

    /// <summary>Resistance in series with the auxiliary winding in ohms.</summary>
    [Quantity("vcc.series-resistance", "ohm", 0.1, 1000, "Resistor in series with the auxiliary winding.")]
    public double VccSeriesResistance { get; set; } = 22;

    /// <summary>Voltage in volts at which the controller's supply pin clamps; null for 1.9 times its start voltage.</summary>
    [Quantity("vcc.clamp", "V", 5, 200, "Voltage at which the zener diode inside the controller clamps its supply, above control.start-voltage; 1.9 times that unless set.")]
    public double? VccClamp { get; set; }

    /// <summary>Supply voltage at which the controller starts, in volts.</summary>
    [Quantity("control.start-voltage", "V", 5, 30, "Supply voltage at which the controller starts.")]
    public double StartVoltage { get; set; } = 16;

    /// <summary>Supply voltage at which it stops, in volts.</summary>
    [Quantity("control.stop-voltage", "V", 3, 25, "Supply voltage below which the controller stops (under-voltage lock-out).")]
    public double StopVoltage { get; set; } = 9.5;

    /// <summary>Supply current of the running controller at its start voltage, in amperes.</summary>
    [Quantity("control.run-current", "A", 50e-6, 50e-3, "Supply current of the running controller, gate drive included, at its start voltage.")]
    public double RunCurrent { get; set; } = 3e-3;

    /// <summary>Switching frequency in hertz.</summary>
    [Quantity("control.frequency", "Hz", 20e3, 300e3, "Switching frequency.")]
    public double Frequency { get; set; } = 65e3;

    /// <summary>Largest duty.</summary>
    [Quantity("control.maximum-duty", "", 0.1, 0.95, "Largest share of the period that the switch is on.")]
    public double MaximumDuty { get; set; } = 0.72;

    /// <summary>Soft start in seconds.</summary>
    [Quantity("control.soft-start", "s", 10e-6, 1, "Time of the soft start from nothing to the full current.")]
    public double SoftStart { get; set; } = 6e-3;

    /// <summary>Leading-edge blanking in seconds.</summary>
    [Quantity("control.blanking", "s", 0, 2e-6, "Time after turn-on during which the sense voltage is not looked at.")]
    public double Blanking { get; set; } = 300e-9;

    /// <summary>Slope compensation in volts per second at the sense pin.</summary>
    [Quantity("control.slope", "V/s", 0, 1e6, "Slope compensation at the sense pin; without any, continuous conduction above half duty is unstable.")]
    public double Slope { get; set; } = 10e3;

    /// <summary>Overload delay in seconds.</summary>
    [Quantity("control.overload-delay", "s", 100e-6, 10, "Time that the current limit may last before the controller stops and starts anew.")]
    public double OverloadDelay { get; set; } = 40e-3;

    /// <summary>Sense resistor in ohms.</summary>
    [Quantity("sense.resistance", "ohm", 0.01, 100, "Sense resistor in the switch's source; 0.8 V across it is the current limit.")]
    public double SenseResistance { get; set; } = 0.62;

    /// <summary>On resistance of the switch in ohms.</summary>
    [Quantity("switch.on-resistance", "ohm", 1e-3, 50, "On resistance of the switch.")]
    public double OnResistance { get; set; } = 1.5;

    /// <summary>Breakdown voltage of the switch in volts.</summary>
    [Quantity("switch.avalanche", "V", 20, 1500, "Drain-source voltage at which the switch breaks down, in switching detail; a 600 V part has about 650 V.")]
    public double Avalanche { get; set; } = 650;

    /// <summary>Primary inductance in henries.</summary>
    [Quantity("transformer.primary-inductance", "H", 10e-6, 50e-3, "Inductance of the primary winding.")]
    public double PrimaryInductance { get; set; } = 600e-6;

    /// <summary>Leakage inductance in henries.</summary>
    [Quantity("transformer.leakage-inductance", "H", 10e-9, 1e-3, "Leakage inductance seen from the primary.")]
    public double LeakageInductance { get; set; } = 12e-6;

    /// <summary>Primary turns per secondary turn.</summary>
    [Quantity("transformer.ratio", "", 0.1, 50, "Primary turns per secondary turn.")]
    public double Ratio { get; set; } = 8;

    /// <summary>Auxiliary turns per secondary turn.</summary>
    [Quantity("transformer.auxiliary-ratio", "", 0.1, 10, "Auxiliary turns per secondary turn.")]
    public double AuxiliaryRatio { get; set; } = 1.1;

    /// <summary>Clamp resistor in ohms.</summary>
    [Quantity("clamp.resistance", "ohm", 100, 10e6, "Resistor of the clamp; it burns the leakage inductance's energy.")]
    public double ClampResistance { get; set; } = 47e3;

    /// <summary>Clamp capacitor in farads.</summary>
    [Quantity("clamp.capacitance", "F", 100e-12, 1e-6, "Capacitor of the clamp.")]
    public double ClampCapacitance { get; set; } = 4.7e-9;

    /// <summary>Capacitance of each output capacitor in farads.</summary>
    [Quantity("output.capacitance", "F", 1e-6, 100e-3, "Capacitance of each of the two output capacitors.")]
    public double OutputCapacitance { get; set; } = 680e-6;

    /// <summary>Series resistance of each output capacitor at 25 degC, in ohms.</summary>
    [Quantity("output.esr", "ohm", 1e-4, 100, "Series resistance of each output capacitor at 25 degC.")]
    public double OutputEsr { get; set; } = 0.045;

    /// <summary>Temperature of the output capacitors in kelvin.</summary>
    [Quantity("output.temperature", "degC", 218.15, 398.15, "Temperature of the output capacitors; their series resistance follows it.")]
    public double OutputTemperature { get; set; } = 298.15;

    /// <summary>Inductance of the post filter in henries.</summary>
    [Quantity("filter.inductance", "H", 100e-9, 1e-3, "Inductance of the post filter's choke.")]
    public double FilterInductance { get; set; } = 4.7e-6;

    /// <summary>Capacitance of the post filter in farads.</summary>
    [Quantity("filter.capacitance", "F", 1e-6, 100e-3, "Capacitance of the post filter's capacitor.")]
    public double FilterCapacitance { get; set; } = 220e-6;

    /// <summary>Series resistance of the post filter's capacitor in ohms.</summary>
    [Quantity("filter.esr", "ohm", 1e-4, 100, "Series resistance of the post filter's capacitor.")]
    public double FilterEsr { get; set; } = 0.08;

    /// <summary>Upper resistor of the feedback divider in ohms.</summary>
    [Quantity("divider.upper", "ohm", 100, 10e6, "Upper resistor of the feedback divider.")]
    public double UpperResistance { get; set; } = 38.3e3;

    /// <summary>Lower resistor of the feedback divider in ohms.</summary>
    [Quantity("divider.lower", "ohm", 100, 10e6, "Lower resistor of the feedback divider; with 2.5 V across it the rail is 2.5 V (1 + upper/lower).")]
    public double LowerResistance { get; set; } = 10e3;

    /// <summary>Resistor in series with the LED in ohms.</summary>
    [Quantity("opto.led-resistance", "ohm", 10, 1e6, "Resistor in series with the opto-coupler's LED.")]
    public double LedResistance { get; set; } = 1000;

    /// <summary>Current transfer ratio of the opto-coupler.</summary>
    [Quantity("opto.transfer-ratio", "", 0.01, 20, "Current transfer ratio of the opto-coupler at 5 mA.")]
    public double TransferRatio { get; set; } = 1;

    /// <summary>Bandwidth of the opto-coupler in hertz.</summary>
    [Quantity("opto.bandwidth", "Hz", 100, 10e6, "Bandwidth of the opto-coupler.")]
    public double OptoBandwidth { get; set; } = 25e3;

    /// <summary>Capacitor of the compensation in farads.</summary>
    [Quantity("compensation.capacitance", "F", 10e-12, 10e-6, "Capacitor from the reference's cathode to its input.")]
    public double CompensationCapacitance { get; set; } = 22e-9;

    /// <summary>Resistor of the compensation in ohms.</summary>
    [Quantity("compensation.resistance", "ohm", 0.1, 10e6, "Resistor in series with that capacitor.")]
    public double CompensationResistance { get; set; } = 4.7e3;

    /// <summary>Capacitor at the feedback pin in farads.</summary>
    [Quantity("feedback.capacitance", "F", 1e-12, 10e-6, "Capacitor at the controller's feedback pin.")]
    public double FeedbackCapacitance { get; set; } = 1e-9;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "bulk", Node = "bulk", Description = "Positive side of the bulk capacitor." },
        new() { Name = "return", Node = "return", Description = "Negative side of the bulk capacitor: the primary return." },
        new() { Name = "rail", Node = "rail", Description = "Output, behind the post filter." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Low-voltage ground." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_bulk"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } =
        ["V_bulk", "R_bulk", "R_load", "R_step", "S_step", "V_hand", "I_signal", "R_signal", "R_barrier"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (StopVoltage >= StartVoltage)
        {
            yield return "control.stop-voltage must be below control.start-voltage.";
        }

        if (VccClamp <= StartVoltage)
        {
            yield return "vcc.clamp must be above control.start-voltage, or the controller never starts.";
        }

        if (Blanking * Frequency >= MaximumDuty)
        {
            yield return "control.blanking must be shorter than the longest on time.";
        }

        if (InputRipple > 1.8 * InputVoltage)
        {
            yield return "input.ripple must leave the bulk voltage positive: at most 1.8 times input.voltage.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        AddBench(circuit);
        AddSupply(circuit);
        if (Detail == ConverterDetail.Averaged)
        {
            AddAveraged(circuit);
        }
        else
        {
            AddSwitching(circuit);
        }

        AddOutput(circuit);
        AddLoop(circuit);
        var charge = VccCapacitance * StartVoltage * StartResistance / Math.Max(1, InputVoltage - 0.5 * StartVoltage);
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = Conditions(),
            SwitchingFrequency = Detail == ConverterDetail.Switching ? Frequency : null,
            SuggestedStop = Math.Max(1.3 * charge + 10 * SoftStart, 1.2 * (StepAt + StepFor) ?? 0),
            SettledFrom = 1.2 * charge + 8 * SoftStart,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddBench(Circuit circuit)
    {
        circuit.Add(new VoltageSource("V_bulk", "source", "return", InputRipple > 0
            ? new SineWaveform { Offset = InputVoltage, Amplitude = 0.5 * InputRipple, Frequency = RippleFrequency }
            : new DcWaveform(InputVoltage)));
        circuit.Add(new Resistor("R_bulk", "source", "bulk", 0.5));
        circuit.Add(new Resistor("R_barrier", "return", Circuit.Ground, 1e9));
        circuit.Add(new Resistor("R_load", "rail", Circuit.Ground, LoadResistance));
        if (LoadSignal > 0)
        {
            // The resistor lets the current be observed; it is in series with a source of current and changes nothing.
            circuit.Add(new CurrentSource("I_signal", Circuit.Ground, "signal", 0) { SmallSignal = LoadSignal });
            circuit.Add(new Resistor("R_signal", "signal", "rail", 1e-3));
        }

        if (StepAt is not { } at)
        {
            return;
        }

        const double edge = 1e-6;
        double[] times = [0, at, at + edge, at + edge + StepFor, at + 2 * edge + StepFor];
        circuit.Add(new VoltageSource("V_hand", "hand", Circuit.Ground, new PiecewiseLinearWaveform(times, [0, 0, 1, 1, 0])));
        circuit.Add(new VoltageSwitch("S_step", "rail", "step", "hand", Circuit.Ground, new SwitchModel { OnResistance = 1e-3, OffResistance = 1e8, Threshold = 0.5, Hysteresis = 0.1 }));
        circuit.Add(new Resistor("R_step", "step", Circuit.Ground, StepResistance));
    }

    private ControllerParameters Settings => new()
    {
        StartVoltage = StartVoltage,
        StopVoltage = StopVoltage,
        RunCurrent = RunCurrent,
        Frequency = Frequency,
        MaximumDuty = MaximumDuty,
        SoftStart = SoftStart,
        Blanking = Blanking,
        Slope = Slope,
        OverloadDelay = OverloadDelay,
    };

    private void AddSupply(Circuit circuit)
    {
        circuit.Add(new Capacitor("C_input", "bulk", "return", 100e-9) { SeriesResistance = 0.2 });
        circuit.Add(new Resistor("R_start", "bulk", "vcc", StartResistance));
        circuit.Add(new Capacitor("C_vcc", "vcc", "return", VccCapacitance) { SeriesResistance = VccEsr * Electrolytic.SeriesResistanceFactor(VccTemperature) });
        // The ceramic capacitor at the controller's pin: without it a controller behind kilohms of a dried-out electrolytic would start and stop without end in no time.
        circuit.Add(new Capacitor("C_pin", "vcc", "return", 100e-9) { SeriesResistance = 0.05 });
        circuit.Add(new Rectifier("Z_vcc", "vcc", "return", VccClamp ?? 1.9 * StartVoltage, 5) { BlockingResistance = 1e9 });
        circuit.Add(new Capacitor("C_feedback", "feedback", "return", FeedbackCapacitance));
        circuit.Add(new Capacitor("C_clamp", "clamp", "bulk", ClampCapacitance));
        circuit.Add(new Resistor("R_clamp", "clamp", "bulk", ClampResistance));
    }

    private void AddAveraged(Circuit circuit) => circuit.Add(new AveragedFlyback(
        Controller, "vcc", "return", "feedback", "bulk", "rect", Circuit.Ground, "clamp", Settings, new FlybackStage
        {
            PrimaryInductance = PrimaryInductance,
            LeakageInductance = LeakageInductance,
            Ratio = Ratio,
            AuxiliaryRatio = AuxiliaryRatio,
            AuxiliaryResistance = VccSeriesResistance,
            PrimaryResistance = PrimaryWinding + OnResistance + SenseResistance,
            SecondaryResistance = SecondaryWinding + RectifierResistance,
            RectifierVoltage = 0.33,
            AuxiliaryVoltage = 0.75,
            SenseResistance = SenseResistance,
        }));

    private const double PrimaryWinding = 0.8;
    private const double SecondaryWinding = 0.02;
    private const double RectifierResistance = 0.02;

    private void AddSwitching(Circuit circuit)
    {
        circuit.Add(new CurrentModeController(Controller, "vcc", "return", "feedback", "sense", "gate", Settings));
        circuit.Add(new Resistor("R_gate", "gate", "return", 10e3));
        circuit.Add(new ControlledSwitch("S_switch", "drain", "sense", Controller, OnResistance));
        circuit.Add(new Resistor("R_sense", "sense", "return", SenseResistance));
        circuit.Add(new Rectifier("Z_switch", "drain", "sense", Avalanche, 5) { BlockingResistance = 1e9 });

        // Capacitance of the switch with its leads, and what damps the two rings that it makes, that of the leakage inductance and that of the idle
        // winding. A ring of many cycles is the business of the block flyback-output.
        circuit.Add(new Capacitor("C_drain", "drain", "return", 47e-12) { SeriesResistance = 100 });
        circuit.Add(new Capacitor("C_damping", "drain", "return", 100e-12) { SeriesResistance = 3300 });
        circuit.Add(new Resistor("R_damping", "bulk", "winding", 470));
        circuit.Add(new Inductor("L_leakage", "bulk", "winding", LeakageInductance) { SeriesResistance = PrimaryWinding });
        circuit.Add(new CoreWindings(
            "T_main",
            PrimaryInductance,
            new Winding("winding", "drain", Ratio),
            new Winding(Circuit.Ground, "sec", 1, SecondaryWinding),
            new Winding("return", "aux", AuxiliaryRatio, 0.5)));
        circuit.Add(new Rectifier("D_clamp", "drain", "clamp", 0.8, 0.3));
        circuit.Add(new Rectifier("D_out", "sec", "rect", 0.33, RectifierResistance));
        circuit.Add(new Rectifier("D_aux", "aux", "charge", 0.75, 0.5));
        circuit.Add(new Resistor("R_aux", "charge", "vcc", VccSeriesResistance));
    }

    private void AddOutput(Circuit circuit)
    {
        var factor = Electrolytic.SeriesResistanceFactor(OutputTemperature);
        circuit.Add(new Capacitor("C_out1", "rect", Circuit.Ground, OutputCapacitance) { SeriesResistance = OutputEsr * factor });
        circuit.Add(new Capacitor("C_out2", "rect", Circuit.Ground, OutputCapacitance) { SeriesResistance = OutputEsr * factor });
        circuit.Add(new Inductor("L_post", "rect", "rail", FilterInductance) { SeriesResistance = 0.01 });
        circuit.Add(new Capacitor("C_post", "rail", Circuit.Ground, FilterCapacitance) { SeriesResistance = FilterEsr });
        circuit.Add(new Capacitor("C_y", "return", Circuit.Ground, 2.2e-9));
    }

    private void AddLoop(Circuit circuit)
    {
        circuit.Add(new Resistor("R_led", "tap", "led", LedResistance));

        // The loop is opened here for small signals only: both ways from the rail to the reference pass it.
        circuit.Add(new VoltageSource("V_loop", "rail", "tap", 0) { SmallSignal = LoopSignal });
        circuit.Add(new Resistor("R_bias", "led", "cathode", 2200));
        circuit.Add(new OptoCoupler("U_opto", "led", "cathode", "feedback", "return", TransferRatio) { Bandwidth = OptoBandwidth });
        circuit.Add(new ShuntReference("U_ref", "ref", Circuit.Ground, "cathode", 2.5));
        circuit.Add(new Resistor("R_upper", "tap", "ref", UpperResistance));
        circuit.Add(new Resistor("R_lower", "ref", Circuit.Ground, LowerResistance));
        circuit.Add(new Resistor("R_comp", "cathode", "comp", CompensationResistance));
        circuit.Add(new Capacitor("C_comp", "comp", "ref", CompensationCapacitance));
    }
}
