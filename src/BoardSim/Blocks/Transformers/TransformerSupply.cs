using BoardSim.Ageing;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Transformers;

/// <summary>
/// Mains transformer, rectifier and reservoir capacitor.
/// <code>
///  V_line R_line          R_primary        R_secondary        D1
///  (~)-----/\/\----inlet----/\/\---+  || +-----/\/\---s1--+---|&gt;|--+--------+--- unregulated
///   |                              )  || (                |   D2   |        |
///   |            R_core across  T1 )  || (                |  +|&gt;|--+     + |        |
///   |                              )  || (                |  |   D3      ===== C_reservoir  [load]
///   |   R_neutral                  )  || (                +--|---|&lt;|-+     |        |
///   +-----/\/\-----neutral---------+  || +-----s2------------+---|&lt;|-+-----+--------+--- ground
///   |                                                            D4        |
///  PE ---------------------------------------------------------------------+
/// </code>
/// Centre tap: two halves of the secondary (R_secondary, R_secondary2) with their common end at the ground, D1 and D2 from their outer ends. Half wave:
/// D1 alone. The secondary's ground is bonded to protective earth, as in an appliance with a metal case; the fuse belongs to the line entry.
/// </summary>
public sealed partial class TransformerSupply : Block
{
    /// <inheritdoc/>
    public override string Id => "transformer-supply";

    /// <inheritdoc/>
    public override string Title => "Mains transformer, rectifier and reservoir capacitor";

    /// <inheritdoc/>
    public override string Summary =>
        "The supply of boards that isolate with copper and iron: a voltage that falls with the load by the windings' resistances, ripple at twice the line's frequency, "
        + "short current pulses that heat the windings more than the load's current suggests, and a core that saturates when it is switched on at the wrong instant.";

    /// <inheritdoc/>
    public override string Topology => """
         V_line R_line          R_primary        R_secondary        D1
         (~)-----/\/\----inlet----/\/\---+  || +-----/\/\---s1--+---|>|--+--------+--- unregulated
          |                              )  || (                |   D2   |        |
          |            R_core across  T1 )  || (                |  +|>|--+     + |        |
          |                              )  || (                |  |   D3      ===== C_reservoir  [load]
          |   R_neutral                  )  || (                +--|---|<|-+     |        |
          +-----/\/\-----neutral---------+  || +-----s2------------+---|<|-+-----+--------+--- ground
          |                                                            D4        |
         PE ---------------------------------------------------------------------+
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <inheritdoc/>
    protected override string? WrongWithRmsLine => "a transformer lives by alternating flux and has no mean-value model here; take detail: waveform for the mains, or a board with bridge-bulk and flyback-supply.";

    /// <summary>Nominal mains supply.</summary>
    [Choice("supply", "Nominal mains supply that the primary is wound for: 120 V at 60 Hz or 230 V at 50 Hz.")]
    public MainsSupply Supply { get; set; } = MainsSupply.Mains120V;

    /// <summary>RMS line voltage in volts; null for the nominal voltage of <see cref="Supply"/>.</summary>
    [Quantity("line.voltage", "V", 5, 300, "RMS voltage of the line; the supply's nominal voltage unless set.", OnBenchOnly = true)]
    public double? LineVoltage { get; set; }

    /// <summary>Resistance of line and neutral together, in ohms.</summary>
    [Quantity("line.resistance", "ohm", 0.01, 50, "Resistance of line and neutral together up to the outlet.", OnBenchOnly = true)]
    public double LineResistance { get; set; } = 0.4;

    /// <summary>Phase of the line at switch-on, in degrees.</summary>
    [Quantity("line.phase", "deg", 0, 360, "Phase of the line's sine when power comes on; at 0 deg the flux runs up to twice its peak and the core saturates.", OnBenchOnly = true)]
    public double LinePhase { get; set; } = 90;

    /// <summary>How the secondary is rectified.</summary>
    [Choice("rectifier", "Bridge, centre tap, or half wave.")]
    public TransformerRectifier Rectifier { get; set; } = TransformerRectifier.Bridge;

    /// <summary>RMS voltage of the secondary without load, in volts.</summary>
    [Quantity("transformer.secondary-voltage", "V", 1, 100, "RMS voltage of the secondary, or of each half of a centre-tapped one, without load at nominal line voltage.")]
    public double SecondaryVoltage { get; set; } = 9;

    /// <summary>Rated power in volt-amperes.</summary>
    [Quantity("transformer.rating", "VA", 0.1, 1000, "Rated apparent power; magnetising current and core loss go by it unless set.")]
    public double Rating { get; set; } = 6;

    /// <summary>Resistance of the secondary, in ohms.</summary>
    [Quantity("transformer.secondary-resistance", "ohm", 1e-3, 100, "Resistance of the secondary, or of each half of a centre-tapped one.")]
    public double SecondaryResistance { get; set; } = 0.9;

    /// <summary>Resistance of the primary, in ohms; null for the same loss as the secondary's.</summary>
    [Quantity("transformer.primary-resistance", "ohm", 1e-3, 100e3, "Resistance of the primary; the secondary's seen from the primary unless set, for as much copper loss on either side.")]
    public double? PrimaryResistance { get; set; }

    /// <summary>Leakage inductance seen from the secondary, in henries.</summary>
    [Quantity("transformer.leakage-inductance", "H", 1e-9, 0.1, "Leakage inductance seen from the secondary, half of it on either side; small against the resistances in small transformers.")]
    public double LeakageInductance { get; set; } = 300e-6;

    /// <summary>Magnetising current at nominal line voltage, in amperes; null for three tenths of the rated current.</summary>
    [Quantity("transformer.magnetising-current", "A", 1e-5, 50, "RMS magnetising current at nominal line voltage, saturation left out; three tenths of the rated primary current unless set.")]
    public double? MagnetisingCurrent { get; set; }

    /// <summary>Flux at which the core saturates, relative to its peak at nominal line voltage.</summary>
    [Quantity("transformer.saturation", "", 0.5, 10, "Flux at which the core saturates, relative to its peak at nominal line voltage; 1.1 to 1.3 in a small transformer that makes use of its iron.")]
    public double Saturation { get; set; } = 1.2;

    /// <summary>Inductance of the primary with a saturated core, relative to the magnetising inductance.</summary>
    [Quantity("transformer.saturated-inductance", "", 1e-5, 0.5, "Inductance of the primary with a saturated core, relative to that of an unsaturated one.")]
    public double SaturatedShare { get; set; } = 0.01;

    /// <summary>Loss of the core at nominal line voltage, in watts; null for a tenth of the rated power.</summary>
    [Quantity("transformer.core-loss", "W", 1e-3, 100, "Loss of the core at nominal line voltage; a tenth of the rated power unless set.")]
    public double? CoreLoss { get; set; }

    /// <summary>Capacitance of the reservoir capacitor, in farads.</summary>
    [Quantity("reservoir.capacitance", "F", 1e-6, 0.1, "Capacitance of the reservoir capacitor; 2 to 5 mF per ampere is usual.")]
    public double Capacitance { get; set; } = 1000e-6;

    /// <summary>Series resistance of the reservoir capacitor at 25 degC, in ohms.</summary>
    [Quantity("reservoir.esr", "ohm", 1e-3, 100, "Series resistance of the reservoir capacitor at 25 degC and twice the line's frequency.")]
    public double Esr { get; set; } = 0.12;

    /// <summary>Temperature of the reservoir capacitor, in kelvin.</summary>
    [Quantity("reservoir.temperature", "degC", 218.15, 398.15, "Temperature of the reservoir capacitor; its series resistance follows it.")]
    public double CapacitorTemperature { get; set; } = 298.15;

    /// <summary>Leakage resistance of the reservoir capacitor, in ohms.</summary>
    [Quantity("reservoir.leakage", "ohm", 100, 1e12, "Leakage resistance of the reservoir capacitor.")]
    public double Leakage { get; set; } = 1e6;

    /// <summary>Thermal resistance of the reservoir capacitor from core to air, in kelvin per watt.</summary>
    [Quantity("reservoir.thermal-resistance", "K/W", 0.5, 500, "Thermal resistance of the reservoir capacitor from core to air; ripple current heats it by that.")]
    public double CapacitorThermalResistance { get; set; } = 35;

    /// <summary>Rated life of the reservoir capacitor, in seconds.</summary>
    [Quantity("reservoir.rated-life", "h", 3600e2, 3600e6, "Rated endurance of the reservoir capacitor at its rated temperature; 1000 to 10,000 h.")]
    public double CapacitorRatedLife { get; set; } = 2000 * 3600.0;

    /// <summary>Temperature that the reservoir capacitor is rated for, in kelvin.</summary>
    [Quantity("reservoir.rated-temperature", "degC", 333.15, 423.15, "Temperature that the endurance is given for; 85 or 105 degC.")]
    public double CapacitorRatedTemperature { get; set; } = 378.15;

    /// <summary>RMS ripple current that the reservoir capacitor ages under, in amperes; null for that at full load.</summary>
    [Quantity("reservoir.ripple-current", "A", 0, 100, "RMS ripple current that the reservoir capacitor has aged under in service; that at the transformer's full load unless set.")]
    public double? RippleCurrent { get; set; }

    /// <summary>Resistance of the bench's load, in ohms.</summary>
    [Quantity("load.resistance", "ohm", 0.1, 1e9, "Resistance of the load.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 33;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line", Node = "inlet", Description = "Line behind the fuse." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
        new() { Name = "output", Node = "unregulated", Description = "Unregulated output, plus of the reservoir capacitor." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Ground of the secondary, minus of the reservoir capacitor." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line", "R_neutral"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_line", "R_line", "R_neutral", "R_load"];

    private double Frequency => Supply == MainsSupply.Mains120V ? 60 : 50;

    private double Nominal => Supply == MainsSupply.Mains120V ? 120 : 230;

    private double Ratio => SecondaryVoltage / Nominal;

    private double PrimaryOhms => PrimaryResistance ?? SecondaryResistance / (Ratio * Ratio);

    private ElectrolyticRating CapacitorRating => new()
    {
        SeriesResistance = Esr,
        Ambient = CapacitorTemperature,
        ThermalResistance = CapacitorThermalResistance,
        RatedLife = CapacitorRatedLife,
        RatedTemperature = CapacitorRatedTemperature,
    };

    private double EsrNow => Esr * Electrolytic.SeriesResistanceFactor(CapacitorTemperature);

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "service", Circuit.Ground, new SineWaveform
        {
            Amplitude = Math.Sqrt(2) * (LineVoltage ?? Nominal),
            Frequency = Frequency,
            PhaseDegrees = LinePhase,
        }));
        circuit.Add(new Resistor("R_line", "service", "inlet", 0.6 * LineResistance));
        circuit.Add(new Resistor("R_neutral", "neutral", Circuit.Ground, 0.4 * LineResistance));
        AddTransformer(circuit);
        AddDiodes(circuit);
        circuit.Add(new Capacitor("C_reservoir", "unregulated", Circuit.Ground, Capacitance) { SeriesResistance = EsrNow, LeakageResistance = Leakage });
        circuit.Add(new Resistor("R_load", "unregulated", Circuit.Ground, LoadResistance));
        var cycle = 1 / Frequency;
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            LineFrequency = Frequency,
            SuggestedStop = 20 * cycle,
            SettledFrom = 16 * cycle,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddTransformer(Circuit circuit)
    {
        var omega = 2 * Math.PI * Frequency;
        var n = Ratio;
        var leakage = LeakageInductance / 2;
        circuit.Add(new Resistor("R_primary", "inlet", "p1", PrimaryOhms));
        circuit.Add(new Resistor("R_secondary", "w1", "s1", SecondaryResistance));
        List<TransformerWinding> windings = [new("p1", "neutral", 1, leakage / (n * n)), new("w1", Rectifier == TransformerRectifier.Bridge ? "s2" : Circuit.Ground, n, leakage)];
        if (Rectifier == TransformerRectifier.CentreTap)
        {
            circuit.Add(new Resistor("R_secondary2", "w2", "s2", SecondaryResistance));
            windings.Add(new(Circuit.Ground, "w2", n, leakage));
            AddWindingCapacitance(circuit, "C_winding2", Circuit.Ground, "w2");
        }

        AddWindingCapacitance(circuit, "C_winding", "w1", windings[1].Other);

        var henries = Nominal / (omega * (MagnetisingCurrent ?? 0.3 * Rating / Nominal));
        circuit.Add(new SaturableTransformer("T1", windings, henries)
        {
            SaturatedInductance = SaturatedShare * henries,
            SaturationFlux = Saturation * Math.Sqrt(2) * Nominal / omega,
        });
        circuit.Add(new Resistor("R_core", "p1", "neutral", Nominal * Nominal / (CoreLoss ?? 0.1 * Rating)));
    }

    /// <summary>A winding's own capacitance with the loss that damps its ringing with the leakage inductance when a diode blocks.</summary>
    private void AddWindingCapacitance(Circuit circuit, string name, string one, string other)
    {
        const double farads = 1e-9;
        circuit.Add(new Capacitor(name, one, other, farads) { SeriesResistance = Math.Sqrt(LeakageInductance / farads) });
    }

    private void AddDiodes(Circuit circuit)
    {
        var model = RectifierModels.Line;
        circuit.Add(new Diode("D1", "s1", "unregulated", model));
        if (Rectifier != TransformerRectifier.HalfWave)
        {
            circuit.Add(new Diode("D2", "s2", "unregulated", model));
        }

        if (Rectifier == TransformerRectifier.Bridge)
        {
            circuit.Add(new Diode("D3", Circuit.Ground, "s1", model));
            circuit.Add(new Diode("D4", Circuit.Ground, "s2", model));
        }
    }
}
