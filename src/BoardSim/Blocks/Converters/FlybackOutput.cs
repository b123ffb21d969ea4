using BoardSim.Ageing;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Converters;

/// <summary>
/// Flyback converter in switching detail, driven with a fixed duty: what its output capacitors, rectifier, clamp and switch do,
/// without a loop that would hide it.
/// <code>
/// V_input  R_input
///  (+)------/\/\---bulk--+-----------+-----------+             D_out             L_post
///                        |           |           |      +--sec--|&gt;|--rect--+-----UUUU--out--+--------+
///                 R_clamp//C_clamp   |       L_leakage  |                  |                |        |
///                        |           |           |      |               C_out1           C_post   R_load
///                      clamp      C_input     winding  L_secondary      (C_out2)            |        |
///                        |           |           |     (dot below)         |                |        |
///                     D_clamp        |      L_primary   |                  |                |        |
///                   (cathode up)     |     (dot above)  |                  |                |        |
///                        |           |           |      +------------------+----------------+--------+-- board ground
///                        +-----------|---------drain
///                                    |           |
/// V_gate--R_gate--gate-----------------------|[ M_switch (beside it: D_avalanche, C_drain)
///                                    |           |
///  (-)-------------------------------+-----------+-- return     (C_y and R_barrier: return to board ground)
/// </code>
/// </summary>
public sealed partial class FlybackOutput : Block
{
    /// <inheritdoc/>
    public override string Id => "flyback-output";

    /// <inheritdoc/>
    public override string Title => "Flyback converter with output rectifier and capacitors";

    /// <inheritdoc/>
    public override string Summary =>
        "Carries power across the isolation barrier in 65,000 packets a second. Shows the ripple that aged output capacitors leave, "
        + "the drain voltage with and without its clamp, and what rectifier, switch and winding faults do to both sides. The duty is "
        + "fixed by hand: no control loop hides or amplifies what the parts do.";

    /// <inheritdoc/>
    public override string Topology => """
        V_input  R_input
         (+)------/\/\---bulk--+-----------+-----------+             D_out             L_post
                               |           |           |      +--sec--|>|--rect--+-----UUUU--out--+--------+
                        R_clamp//C_clamp   |       L_leakage  |                  |                |        |
                               |           |           |      |               C_out1           C_post   R_load
                             clamp      C_input     winding  L_secondary      (C_out2)            |        |
                               |           |           |     (dot below)         |                |        |
                            D_clamp        |      L_primary   |                  |                |        |
                          (cathode up)     |     (dot above)  |                  |                |        |
                               |           |           |      +------------------+----------------+--------+-- board ground
                               +-----------|---------drain
                                           |           |
        V_gate--R_gate--gate-----------------------|[ M_switch (beside it: D_avalanche, C_drain)
                                           |           |
         (-)-------------------------------+-----------+-- return     (C_y and R_barrier: return to board ground)
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <summary>Bulk voltage in volts.</summary>
    [Quantity("input.voltage", "V", 5, 450, "DC voltage of the bulk capacitor that feeds the converter.")]
    public double InputVoltage { get; set; } = 160;

    /// <summary>Resistance between bulk capacitor and winding, in ohms.</summary>
    [Quantity("input.resistance", "ohm", 1e-3, 100, "Series resistance of the source and the wiring; it is what limits the current when the switch has shorted, there is no fuse in this block.")]
    public double InputResistance { get; set; } = 1;

    /// <summary>Switching frequency in hertz.</summary>
    [Quantity("switch.frequency", "Hz", 10e3, 500e3, "Switching frequency.")]
    public double Frequency { get; set; } = 65e3;

    /// <summary>Share of the period in which the switch is on.</summary>
    [Quantity("switch.duty", "", 0.02, 0.8, "Share of the period in which the switch is on.")]
    public double Duty { get; set; } = 0.21;

    /// <summary>On resistance of the switch in ohms.</summary>
    [Quantity("switch.on-resistance", "ohm", 1e-3, 50, "On resistance of the switch; 1 to 5 ohm for a 600 V part of this power.")]
    public double OnResistance { get; set; } = 2;

    /// <summary>Breakdown voltage of the switch in volts.</summary>
    [Quantity("switch.avalanche", "V", 20, 1500, "Drain-source voltage at which the switch breaks down; a 600 V part has about 650 V.")]
    public double Avalanche { get; set; } = 650;

    /// <summary>Capacitance at the drain, in farads.</summary>
    [Quantity("switch.drain-capacitance", "F", 1e-12, 10e-9, "Capacitance at the drain: switch and winding together.")]
    public double DrainCapacitance { get; set; } = 80e-12;

    /// <summary>Primary inductance in henries.</summary>
    [Quantity("transformer.primary-inductance", "H", 1e-6, 50e-3, "Inductance of the primary winding.")]
    public double PrimaryInductance { get; set; } = 600e-6;

    /// <summary>Leakage inductance seen from the primary, in henries.</summary>
    [Quantity("transformer.leakage-inductance", "H", 1e-9, 5e-3, "Leakage inductance seen from the primary; 1 to 5 % of the primary inductance.")]
    public double LeakageInductance { get; set; } = 18e-6;

    /// <summary>Primary turns per secondary turn.</summary>
    [Quantity("transformer.ratio", "", 0.02, 50, "Primary turns per secondary turn.")]
    public double Ratio { get; set; } = 8;

    /// <summary>Resistance of the primary winding, in ohms.</summary>
    [Quantity("transformer.primary-resistance", "ohm", 1e-4, 100, "Resistance of the primary winding.")]
    public double PrimaryResistance { get; set; } = 0.8;

    /// <summary>Resistance of the secondary winding, in ohms.</summary>
    [Quantity("transformer.secondary-resistance", "ohm", 1e-5, 10, "Resistance of the secondary winding.")]
    public double SecondaryResistance { get; set; } = 0.02;

    /// <summary>Resistance across the primary that stands for core losses, in ohms.</summary>
    [Quantity("transformer.core-resistance", "ohm", 100, 1e9, "Resistance across the primary that takes what the core loses.")]
    public double CoreResistance { get; set; } = 50e3;

    /// <summary>Resistance of the clamp, in ohms.</summary>
    [Quantity("clamp.resistance", "ohm", 100, 10e6, "Resistor of the clamp; it burns the leakage inductance's energy.")]
    public double ClampResistance { get; set; } = 47e3;

    /// <summary>Capacitance of the clamp, in farads.</summary>
    [Quantity("clamp.capacitance", "F", 100e-12, 1e-6, "Capacitor of the clamp.")]
    public double ClampCapacitance { get; set; } = 4.7e-9;

    /// <summary>Series resistance of the rectifier, in ohms.</summary>
    [Quantity("rectifier.resistance", "ohm", 1e-4, 10, "Series resistance of the output rectifier.")]
    public double RectifierResistance { get; set; } = 0.02;

    /// <summary>One or two output capacitors.</summary>
    [Choice("output.capacitors", "One output capacitor, or two in parallel.")]
    public OutputCapacitors Capacitors { get; set; } = OutputCapacitors.One;

    /// <summary>Capacitance of each output capacitor, in farads.</summary>
    [Quantity("output.capacitance", "F", 100e-9, 100e-3, "Capacitance of each output capacitor.")]
    public double OutputCapacitance { get; set; } = 1000e-6;

    /// <summary>Series resistance of each output capacitor at 25 degC, in ohms.</summary>
    [Quantity("output.esr", "ohm", 1e-4, 100, "Series resistance of each output capacitor at 25 degC; some tens of milliohms when new.")]
    public double OutputEsr { get; set; } = 0.03;

    /// <summary>Temperature of the output capacitors, in kelvin.</summary>
    [Quantity("output.temperature", "degC", 218.15, 398.15, "Temperature of the output capacitors; their series resistance follows it.")]
    public double OutputTemperature { get; set; } = 298.15;

    /// <summary>Thermal resistance of an output capacitor from core to air, in kelvin per watt.</summary>
    [Quantity("output.thermal-resistance", "K/W", 0.5, 500, "Thermal resistance of an output capacitor from core to air; ripple current heats it by that.")]
    public double OutputThermalResistance { get; set; } = 30;

    /// <summary>Rated life of an output capacitor, in seconds.</summary>
    [Quantity("output.rated-life", "h", 3600e2, 3600e6, "Rated endurance of an output capacitor at its rated temperature; 1000 to 10,000 h.")]
    public double OutputRatedLife { get; set; } = 3000 * 3600.0;

    /// <summary>Temperature that an output capacitor is rated for, in kelvin.</summary>
    [Quantity("output.rated-temperature", "degC", 333.15, 423.15, "Temperature that the endurance is given for; 85 or 105 degC.")]
    public double OutputRatedTemperature { get; set; } = 378.15;

    /// <summary>RMS ripple current that each output capacitor ages under, in amperes; null for an estimate.</summary>
    [Quantity("output.ripple-current", "A", 0, 100, "RMS ripple current that each output capacitor has aged under in service; estimated from the load unless set.")]
    public double? OutputRippleCurrent { get; set; }

    /// <summary>What stands between capacitors and load.</summary>
    [Choice("filter", "Nothing, or a small choke and a second capacitor between the output capacitors and the load.")]
    public PostFilter Filter { get; set; } = PostFilter.None;

    /// <summary>Inductance of the post filter, in henries.</summary>
    [Quantity("filter.inductance", "H", 100e-9, 10e-3, "Inductance of the post filter's choke.")]
    public double FilterInductance { get; set; } = 4.7e-6;

    /// <summary>Capacitance of the post filter, in farads.</summary>
    [Quantity("filter.capacitance", "F", 100e-9, 100e-3, "Capacitance of the post filter's capacitor.")]
    public double FilterCapacitance { get; set; } = 220e-6;

    /// <summary>Series resistance of the post filter's capacitor at 25 degC, in ohms.</summary>
    [Quantity("filter.esr", "ohm", 1e-4, 100, "Series resistance of the post filter's capacitor at 25 degC.")]
    public double FilterEsr { get; set; } = 0.1;

    /// <summary>Load resistance in ohms.</summary>
    [Quantity("load.resistance", "ohm", 0.01, 1e6, "Resistance of the load.")]
    public double LoadResistance { get; set; } = 12;

    private ElectrolyticRating OutputRating => new()
    {
        SeriesResistance = OutputEsr,
        Frequency = Frequency,
        Ambient = OutputTemperature,
        ThermalResistance = OutputThermalResistance,
        RatedLife = OutputRatedLife,
        RatedTemperature = OutputRatedTemperature,
    };

    private double EsrFactor => Electrolytic.SeriesResistanceFactor(OutputTemperature);

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (LeakageInductance > 0.2 * PrimaryInductance)
        {
            yield return "transformer.leakage-inductance is more than a fifth of transformer.primary-inductance; 1 to 5 % is usual.";
        }

        if (InputVoltage > 0.9 * Avalanche)
        {
            yield return "input.voltage is more than nine tenths of switch.avalanche: the switch would break down at rest.";
        }
    }

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_input", "V_gate"];

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        AddPrimary(circuit);
        AddSecondary(circuit, StartVoltage());
        var period = 1 / Frequency;

        // The capacitors start close to where they settle; a few hundred periods take the rest out of the healthy converter.
        var settled = 400 * period;
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            SwitchingFrequency = Frequency,
            SettledFrom = settled,
            SuggestedStop = settled + 20 * period,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddPrimary(Circuit circuit)
    {
        circuit.Add(new VoltageSource("V_input", "supply", "return", InputVoltage));
        circuit.Add(new Resistor("R_input", "supply", "bulk", InputResistance));
        circuit.Add(new Capacitor("C_input", "bulk", "return", 100e-9) { SeriesResistance = 0.2, InitialVoltage = InputVoltage });

        // The leakage inductance rings with the drain's capacitance; skin and proximity loss at that frequency damp it to a
        // quality of about five.
        circuit.Add(new Inductor("L_leakage", "bulk", "winding", LeakageInductance) { SeriesResistance = PrimaryResistance });
        circuit.Add(new Resistor("R_leakage", "bulk", "winding", 5 * Math.Sqrt(LeakageInductance / DrainCapacitance)));
        circuit.Add(new Inductor("L_primary", "winding", "drain", PrimaryInductance));
        circuit.Add(new Resistor("R_core", "winding", "drain", CoreResistance));
        circuit.Add(new Inductor("L_secondary", "0", "sec", PrimaryInductance / (Ratio * Ratio)) { SeriesResistance = SecondaryResistance });

        // All leakage is in L_leakage; the coupling itself is perfect.
        circuit.Add(new Coupling("K1", "L_primary", "L_secondary", 1));
        circuit.Add(new Capacitor("C_secondary", "sec", "0", 30e-12) { SeriesResistance = 10 });

        circuit.Add(new Mosfet("M_switch", "drain", "gate", "return", "return", ConverterModels.Switch(OnResistance)));
        circuit.Add(new Diode("D_avalanche", "return", "drain", ConverterModels.Avalanche(Avalanche)));
        circuit.Add(new Capacitor("C_drain", "drain", "return", DrainCapacitance));
        AddGateDrive(circuit);

        circuit.Add(new Diode("D_clamp", "drain", "clamp", ConverterModels.Clamp));
        circuit.Add(new Capacitor("C_clamp", "clamp", "bulk", ClampCapacitance) { InitialVoltage = 1.5 * Ratio * StartVoltage() });
        circuit.Add(new Resistor("R_clamp", "clamp", "bulk", ClampResistance));
        circuit.Add(new Capacitor("C_y", "return", "0", 2.2e-9));
        circuit.Add(new Resistor("R_barrier", "return", "0", 1e9));
    }

    private void AddGateDrive(Circuit circuit)
    {
        const double edge = 50e-9;
        circuit.Add(new VoltageSource("V_gate", "driver", "return", new PulseWaveform
        {
            High = ConverterModels.GateDrive,
            Rise = edge,
            Fall = edge,
            Width = Duty / Frequency - edge,
            Period = 1 / Frequency,
        }));
        circuit.Add(new Resistor("R_gate", "driver", "gate", 47));
        circuit.Add(new Capacitor("C_gate", "gate", "return", 400e-12));
        circuit.Add(new Capacitor("C_reverse", "drain", "gate", 4e-12));
    }

    private void AddSecondary(Circuit circuit, double start)
    {
        circuit.Add(new Diode("D_out", "sec", "rect", ConverterModels.Output(RectifierResistance)));
        circuit.Add(Aged("C_out1", "rect", OutputCapacitance, OutputEsr, start));
        if (Capacitors == OutputCapacitors.Two)
        {
            circuit.Add(Aged("C_out2", "rect", OutputCapacitance, OutputEsr, start));
        }

        if (Filter == PostFilter.ChokeAndCapacitor)
        {
            circuit.Add(new Inductor("L_post", "rect", "out", FilterInductance) { SeriesResistance = 0.01, InitialCurrent = start / LoadResistance });
            circuit.Add(Aged("C_post", "out", FilterCapacitance, FilterEsr, start));
        }

        circuit.Add(new Resistor("R_load", OutputNode, "0", LoadResistance));
    }

    private string OutputNode => Filter == PostFilter.None ? "rect" : "out";

    private Capacitor Aged(string name, string node, double farads, double ohms, double start) => new(name, node, "0", farads)
    {
        SeriesResistance = ohms * EsrFactor,
        InitialVoltage = start,
    };

    /// <summary>
    /// Ripple current in amperes of each output capacitor: triangles with the load's current as their mean, for as long as the secondary takes to give back
    /// the volt seconds of the primary, but for the whole of the off time at most (RMS value of a triangle: any textbook on converters).
    /// </summary>
    private double RippleEstimate()
    {
        var volts = StartVoltage();
        var share = Math.Min(1 - Duty, Duty * InputVoltage / (Ratio * volts));
        var all = volts / LoadResistance * Math.Sqrt(4 / (3 * share) - 1);
        return Capacitors == OutputCapacitors.Two ? all / 2 : all;
    }

    /// <summary>
    /// Voltage in volts that the output capacitors start from: the loss-free converter's, in discontinuous or continuous
    /// conduction, whichever is higher. It saves computing a long soft start; where the output settles is up to the circuit.
    /// </summary>
    private double StartVoltage()
    {
        var discontinuous = InputVoltage * Duty * Math.Sqrt(LoadResistance / (2 * PrimaryInductance * Frequency));
        var continuous = InputVoltage * Duty / (1 - Duty) / Ratio;
        return 0.92 * Math.Max(discontinuous, continuous);
    }
}
