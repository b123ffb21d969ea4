using BoardSim.Ageing;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Rectifiers;

/// <summary>
/// Line rectifier with inrush limiter and bulk capacitor, fed from the mains behind its source impedance.
/// <code>
///             R_line  L_line  plug          RT1                D1
///  line  (~)--/\/\---UUUU---o o--inlet--[ntc]---ac---+------|&gt;|----+-------+--------+--- bulk
///         |                                          |      D2     |       |        |
///         |  R_neutral                               |  +---|&gt;|----+     + |        |
///         +---/\/\----neutral------------------------|--+             ===== C_bulk [load]
///         |                                          |  |   D3             |        |
///        PE                                          +--|---|&lt;|----+       |        |
///    (neutral is bonded to protective                   |   D4     |       |        |
///     earth at the service entrance)                    +---|&lt;|----+---+---+--------+--- return
///                                                                      |
///                                                                 PE --||-- C_y
/// </code>
/// Doubler: two capacitors in series between bulk and return, their middle linked to neutral. D2 and D4 then only keep a capacitor that has run empty from
/// being charged the wrong way round.
/// The fuse belongs to the line entry, not to this block: a shorted bulk capacitor draws what the source impedance lets through.
/// </summary>
public sealed partial class BridgeBulk : Block
{
    /// <summary>Capacitance in farads of a converter's input by itself, between tracks, at the transformer's winding and its switch (common practice, no source): what it lives on for the moment in which
    /// a bulk capacitor has lost contact or dried out, and its voltage gives way.</summary>
    private const double ConverterInput = 1e-9;

    /// <inheritdoc/>
    public override string Id => "bridge-bulk";

    /// <inheritdoc/>
    public override string Title => "Line rectifier, inrush limiter and bulk capacitor";

    /// <inheritdoc/>
    public override string Summary =>
        "Turns the line into the DC that the converter lives on. Shows the first charging current with a cold and a hot limiter, "
        + "the ripple and its frequency, the short line current pulses, and how long the bulk capacitor carries the load when the plug is pulled.";

    /// <inheritdoc/>
    public override string Topology => """
                    R_line  L_line  plug          RT1                D1
         line  (~)--/\/\---UUUU---o o--inlet--[ntc]---ac---+------|>|----+-------+--------+--- bulk
                |                                          |      D2     |       |        |
                |  R_neutral                               |  +---|>|----+     + |        |
                +---/\/\----neutral------------------------|--+             ===== C_bulk [load]
                |                                          |  |   D3             |        |
               PE                                          +--|---|<|----+       |        |
           (neutral is bonded to protective                   |   D4     |       |        |
            earth at the service entrance)                    +---|<|----+---+---+--------+--- return
                                                                             |
                                                                        PE --||-- C_y

         doubler:  bulk --+--[C_bulk]-- middle --[C_bulk2]--+-- return,  S_selector links middle to neutral
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <summary>Nominal mains supply.</summary>
    [Choice("supply", "Nominal mains supply: 120 V at 60 Hz or 230 V at 50 Hz.", OnBenchOnly = true)]
    public MainsSupply Supply { get; set; } = MainsSupply.Mains120V;

    /// <summary>What of the bench's line is computed.</summary>
    [Choice("line.detail", "What of the bench's line is computed: its sine, or its RMS value as if it were a direct voltage, for runs of hours.", OnBenchOnly = true)]
    public LineDetail BenchDetail
    {
        get => LineDetail;
        set => LineDetail = value;
    }

    /// <summary>RMS line voltage in volts; null for the nominal voltage of <see cref="Supply"/>.</summary>
    [Quantity("line.voltage", "V", 20, 300, "RMS voltage of the unloaded line; the supply's nominal voltage unless set.", OnBenchOnly = true)]
    public double? LineVoltage { get; set; }

    /// <summary>Resistance of line and neutral together, in ohms.</summary>
    [Quantity("line.resistance", "ohm", 0.01, 50, "Resistance of line and neutral together up to the outlet; 0.2 to 1 ohm in a building.", OnBenchOnly = true)]
    public double LineResistance { get; set; } = 0.4;

    /// <summary>Inductance of line and neutral together, in henries.</summary>
    [Quantity("line.inductance", "H", 0, 10e-3, "Inductance of line and neutral together up to the outlet; 100 uH to 1 mH in a building.", OnBenchOnly = true)]
    public double LineInductance { get; set; } = 200e-6;

    /// <summary>Phase of the line at switch-on, in degrees.</summary>
    [Quantity("line.phase", "deg", 0, 360, "Phase of the line's sine when power comes on; 90 deg is the peak, the worst case for inrush.", OnBenchOnly = true)]
    public double LinePhase { get; set; } = 90;

    /// <summary>Instant in seconds when the plug is pulled; null for never.</summary>
    [Quantity("unplug.at", "s", 1e-3, 1000, "When the plug is pulled; never unless set.", OnBenchOnly = true)]
    public double? UnplugAt { get; set; }

    /// <summary>Instant in seconds when it is put in again; null for never.</summary>
    [Quantity("replug.at", "s", 1e-3, 1000, "When the plug is put in again after it was pulled; never unless set.", OnBenchOnly = true)]
    public double? ReplugAt { get; set; }

    /// <summary>What keeps the first charging current down.</summary>
    [Choice("limiter", "What keeps the first charging current down: an NTC thermistor, a resistor, or nothing but a link.")]
    public InrushLimiter Limiter { get; set; } = InrushLimiter.Ntc;

    /// <summary>Resistance of the limiter at 25 degC, in ohms.</summary>
    [Quantity("limiter.resistance", "ohm", 0.1, 500, "Resistance of the limiter, for an NTC at 25 degC; 2.5 to 50 ohm is usual.")]
    public double LimiterResistance { get; set; } = 10;

    /// <summary>B of an NTC limiter, in kelvin.</summary>
    [Quantity("limiter.beta", "K", 1000, 6000, "B of an NTC limiter; about 3000 K for power NTCs.")]
    public double LimiterBeta { get; set; } = 3000;

    /// <summary>Thermal conductance from an NTC limiter to the air, in watts per kelvin.</summary>
    [Quantity("limiter.dissipation", "W/K", 1e-3, 0.1, "Heat that an NTC limiter gives off per kelvin above the air; 8 to 20 mW/K for discs of 8 to 15 mm.")]
    public double LimiterDissipation { get; set; } = 10e-3;

    /// <summary>Heat capacity of an NTC limiter, in joules per kelvin.</summary>
    [Quantity("limiter.heat-capacity", "J/K", 0.01, 20, "Heat that warms an NTC limiter by a kelvin; with the dissipation it makes a time constant of half a minute to two minutes.")]
    public double LimiterHeatCapacity { get; set; } = 0.5;

    /// <summary>Temperature of an NTC limiter at switch-on, in kelvin; null for that of the air.</summary>
    [Quantity("limiter.start-temperature", "degC", 218.15, 523.15, "Temperature of an NTC limiter at switch-on: that of the air when cold, 100 to 180 degC in a hot restart; the air's unless set.")]
    public double? LimiterStartTemperature { get; set; }

    /// <summary>Temperature of the air around the board, in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of the air around the board.")]
    public double Ambient { get; set; } = 298.15;

    /// <summary>How diodes and capacitance are wired.</summary>
    [Choice("arrangement", "Full-wave bridge into one capacitor, or voltage doubler into two in series.")]
    public RectifierArrangement Arrangement { get; set; } = RectifierArrangement.Bridge;

    /// <summary>Resistance before the inlet that the mean-value model takes into account, in ohms; null for the bench's line.</summary>
    [Quantity("source.resistance", "ohm", 0, 100, "Resistance in the charging pulses' way before the inlet (line, fuse, filter): only the mean-value model asks for it, where the line is computed by its RMS value; 1 ohm unless set.")]
    public double? SourceResistance { get; set; }

    /// <summary>Law of the diodes.</summary>
    [Choice("diode.law", "Law of the bridge's diodes: the junction's exponential with its capacitance, or threshold voltage and slope resistance as data sheets give them for power loss: "
        + "several times faster over seconds of board time, and within some hundredths of a volt.")]
    public DiodeLaw DiodeLaw { get; set; }

    /// <summary>Bulk capacitance in farads, of each capacitor.</summary>
    [Quantity("bulk.capacitance", "F", 1e-6, 10e-3, "Bulk capacitance (of each of the two in a doubler); 1 uF per watt at 230 V, 2 to 3 uF per watt at 120 V is usual.")]
    public double BulkCapacitance { get; set; } = 68e-6;

    /// <summary>Series resistance of a bulk capacitor at 25 degC, in ohms.</summary>
    [Quantity("bulk.esr", "ohm", 1e-3, 500, "Series resistance of a bulk capacitor at 25 degC; about 1 ohm for 68 uF when new.")]
    public double BulkEsr { get; set; } = 1;

    /// <summary>Temperature of the bulk capacitors, in kelvin; their series resistance follows it.</summary>
    [Quantity("bulk.temperature", "degC", 218.15, 398.15, "Temperature of the bulk capacitors; their series resistance follows it (16 times at -40 degC, half at 105 degC).")]
    public double BulkTemperature { get; set; } = 298.15;

    /// <summary>Leakage resistance of a bulk capacitor, in ohms.</summary>
    [Quantity("bulk.leakage", "ohm", 100, 1e12, "Leakage resistance of a bulk capacitor; some megohms when new.")]
    public double BulkLeakage { get; set; } = 5e6;

    /// <summary>Thermal resistance of a bulk capacitor from core to air, in kelvin per watt.</summary>
    [Quantity("bulk.thermal-resistance", "K/W", 0.5, 500, "Thermal resistance of a bulk capacitor from core to air; ripple current heats it by that.")]
    public double BulkThermalResistance { get; set; } = 25;

    /// <summary>Rated life of a bulk capacitor, in seconds.</summary>
    [Quantity("bulk.rated-life", "h", 3600e2, 3600e6, "Rated endurance of a bulk capacitor at its rated temperature; 1000 to 10,000 h.")]
    public double BulkRatedLife { get; set; } = 2000 * 3600.0;

    /// <summary>Temperature that a bulk capacitor is rated for, in kelvin.</summary>
    [Quantity("bulk.rated-temperature", "degC", 333.15, 423.15, "Temperature that the endurance is given for; 85 or 105 degC.")]
    public double BulkRatedTemperature { get; set; } = 378.15;

    /// <summary>RMS ripple current that a bulk capacitor ages under, in amperes; null for an estimate.</summary>
    [Quantity("bulk.ripple-current", "A", 0, 100, "RMS ripple current that a bulk capacitor has aged under in service; estimated from the load unless set.")]
    public double? BulkRippleCurrent { get; set; }

    /// <summary>Capacitance from primary return to protective earth, in farads.</summary>
    [Quantity("y.capacitance", "F", 10e-12, 10e-9, "Y capacitor with stray capacitance from primary return to protective earth; 1 to 4.7 nF is usual.")]
    public double YCapacitance { get; set; } = 2.2e-9;

    /// <summary>What the bulk capacitor feeds.</summary>
    [Choice("load", "What the bulk capacitor feeds: a converter that takes constant power, or a resistor.", OnBenchOnly = true)]
    public BulkLoad Load { get; set; } = BulkLoad.ConstantPower;

    /// <summary>Power that a converter takes, in watts.</summary>
    [Quantity("load.power", "W", 0.1, 1000, "Power that the converter takes from the bulk capacitor.", OnBenchOnly = true)]
    public double LoadPower { get; set; } = 12;

    /// <summary>Voltage at which a converter stops, in volts.</summary>
    [Quantity("load.minimum-voltage", "V", 5, 300, "Bulk voltage below which the converter no longer gets its power: it takes less and less, near zero as a resistor of half the voltage squared over the power.", OnBenchOnly = true)]
    public double LoadMinimumVoltage { get; set; } = 60;

    /// <summary>Resistance of a resistive load, in ohms.</summary>
    [Quantity("load.resistance", "ohm", 1, 10e6, "Resistance of a resistive load.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 2200;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line", Node = "inlet", Description = "Line, behind fuse and filter." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral, behind the filter." },
        new() { Name = "earth", Node = "0", Description = "Protective earth, for the Y capacitor." },
        new() { Name = "bulk", Node = "bulk", Description = "Positive side of the bulk capacitor." },
        new() { Name = "return", Node = "return", Description = "Negative side: the primary return." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line", "S_plug", "R_neutral"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } =
        ["V_line", "R_line", "R_neutral", "L_line", "C_neighbours", "C_wiring", "S_plug", "V_hand", "R_load"];

    /// <summary>Charging pulses that a bulk capacitor gets in each line cycle.</summary>
    private int Pulses => Arrangement == RectifierArrangement.Doubler ? 1 : 2;

    private double Frequency => Supply == MainsSupply.Mains120V ? 60 : 50;

    private double Rms => LineVoltage ?? (Supply == MainsSupply.Mains120V ? 120 : 230);

    private ElectrolyticRating BulkRating => new()
    {
        SeriesResistance = BulkEsr,
        Ambient = BulkTemperature,
        ThermalResistance = BulkThermalResistance,
        RatedLife = BulkRatedLife,
        RatedTemperature = BulkRatedTemperature,
    };

    private double EsrNow => BulkEsr * Electrolytic.SeriesResistanceFactor(BulkTemperature);

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (ReplugAt is { } again && !(UnplugAt < again))
        {
            yield return UnplugAt is null
                ? "replug.at is set but unplug.at is not: say when the plug is pulled as well."
                : "replug.at must be later than unplug.at.";
        }

        if (LineDetail == LineDetail.Rms && Arrangement == RectifierArrangement.Doubler)
        {
            yield return "arrangement: doubler has no mean-value model; with the line by its RMS value take arrangement: bridge, or compute the line's waveform.";
        }

        var peak = Math.Sqrt(2) * Rms * (Arrangement == RectifierArrangement.Doubler ? 2 : 1);
        if (Load == BulkLoad.ConstantPower && LoadMinimumVoltage > 0.9 * peak)
        {
            yield return $"load.minimum-voltage is {LoadMinimumVoltage:G4} V but the line charges the bulk capacitor to {peak:G4} V only: the converter would never start.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title, Temperature = Ambient };
        AddLine(circuit);
        AddRectifier(circuit);
        AddLoad(circuit);
        var cycle = 1 / Frequency;
        var settled = 8 * cycle;
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = LineDetail == LineDetail.Rms ? MeanStates() : Limiter == InrushLimiter.Ntc
                ? [new() { Name = "limiter-temperature", Part = "RT1", State = "temperature", Unit = "degC", Description = "Temperature of the NTC limiter: that of the air when cold, well above 100 degC in service." }]
                : [],
            LineFrequency = LineDetail == LineDetail.Rms ? null : Frequency,
            LineByRms = LineDetail == LineDetail.Rms,
            SuggestedStop = (ReplugAt + 6 * cycle) ?? (UnplugAt + 1.3 * HoldUpEstimate()) ?? 12 * cycle,
            SettledFrom = settled,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddLine(Circuit circuit)
    {
        circuit.Add(new VoltageSource("V_line", "service", "0", LineDetail == LineDetail.Rms ? new DcWaveform(Rms) : new SineWaveform
        {
            Amplitude = Math.Sqrt(2) * Rms,
            Frequency = Frequency,
            PhaseDegrees = LinePhase,
        }));

        // IEC 60725 splits the reference impedance of a supply 3 to 2 between line and neutral.
        circuit.Add(new Resistor("R_line", "service", "wall", 0.6 * LineResistance));
        circuit.Add(new Resistor("R_neutral", "neutral", "0", 0.4 * LineResistance));
        var outlet = "wall";
        if (LineInductance > 0)
        {
            outlet = "outlet";
            circuit.Add(new Inductor("L_line", "wall", outlet, LineInductance));
            LineWiring.AddTo(circuit, outlet, LineInductance);
        }

        if (UnplugAt is { } off)
        {
            AddPlug(circuit, outlet, off);
        }
        else
        {
            circuit.Add(new Resistor("S_plug", outlet, "inlet", 1e-3));
        }
    }

    private void AddPlug(Circuit circuit, string outlet, double off)
    {
        const double edge = 1e-6;
        var (times, levels) = (new List<double> { 0, off, off + edge }, new List<double> { 1, 1, 0 });
        if (ReplugAt is { } on)
        {
            times.AddRange([on, on + edge]);
            levels.AddRange([0, 1]);
        }

        circuit.Add(new VoltageSource("V_hand", "hand", "0", new PiecewiseLinearWaveform(times, levels)));
        circuit.Add(new VoltageSwitch("S_plug", outlet, "inlet", "hand", "0", new SwitchModel
        {
            OnResistance = 1e-3,
            OffResistance = 1e9,
            Threshold = 0.5,
            Hysteresis = 0.1,
        })
        { InitiallyOn = true });
    }

    private void AddRectifier(Circuit circuit)
    {
        if (LineDetail == LineDetail.Rms)
        {
            AddMeanRectifier(circuit);
            return;
        }

        circuit.Add(Limiter switch
        {
            InrushLimiter.Ntc => new Thermistor("RT1", "inlet", "ac", LimiterResistance, LimiterBeta)
            {
                Dissipation = LimiterDissipation,
                HeatCapacity = LimiterHeatCapacity,
                InitialTemperature = LimiterStartTemperature,
            },
            InrushLimiter.Resistor => new Resistor("RT1", "inlet", "ac", LimiterResistance),
            _ => (Device)new Resistor("RT1", "inlet", "ac", 1e-3),
        });
        AddDiode(circuit, "D1", "ac", "bulk");
        AddDiode(circuit, "D2", "neutral", "bulk");
        AddDiode(circuit, "D3", "return", "ac");
        AddDiode(circuit, "D4", "return", "neutral");
        circuit.Add(new Capacitor("C_y", "return", "0", YCapacitance));
        if (Arrangement == RectifierArrangement.Bridge)
        {
            circuit.Add(Bulk("C_bulk", "bulk", "return"));
            return;
        }

        circuit.Add(Bulk("C_bulk", "bulk", "middle"));
        circuit.Add(Bulk("C_bulk2", "middle", "return"));
        circuit.Add(new Resistor("S_selector", "middle", "neutral", 0.01));
    }

    private void AddDiode(Circuit circuit, string name, string anode, string cathode) => circuit.Add(DiodeLaw == DiodeLaw.Junction
        ? new Diode(name, anode, cathode, RectifierModels.Line)
        : (Device)new Rectifier(name, anode, cathode, RectifierModels.LineThreshold, RectifierModels.LineSlope));

    private Capacitor Bulk(string name, string plus, string minus) => new(name, plus, minus, BulkCapacitance)
    {
        SeriesResistance = EsrNow,
        LeakageResistance = BulkLeakage,
    };

    private void AddLoad(Circuit circuit) => circuit.Add(Load == BulkLoad.Resistor
        ? new Resistor("R_load", "bulk", "return", LoadResistance)
        : (Device)new ConstantPowerLoad("R_load", "bulk", "return", LoadPower, LoadMinimumVoltage) { InputCapacitance = ConverterInput });

    /// <summary>
    /// Ripple current in amperes by the balance of charge alone: the load's current flows out of the capacitor all the time but for the crest, where as much
    /// comes back in an even pulse. The crest begins where the sine has risen to the valley that the load has left.
    /// </summary>
    private double RippleEstimate()
    {
        var peak = Math.Sqrt(2) * Rms;
        var amperes = Load == BulkLoad.Resistor ? peak * (2 / Pulses) / LoadResistance : LoadPower / (peak * (2 / Pulses));
        var fall = Math.Min(amperes / (Pulses * Frequency * BulkCapacitance), peak);
        var share = Math.Acos(1 - fall / peak) / (2 * Math.PI) * Pulses;
        return amperes * Math.Sqrt((1 - share) / share);
    }

    /// <summary>Rough time in seconds until the load has emptied the bulk capacitor; it only sets how long a run is suggested.</summary>
    private double HoldUpEstimate()
    {
        var doubled = Arrangement == RectifierArrangement.Doubler ? 2 : 1;
        var (volts, farads) = (Math.Sqrt(2) * Rms * doubled, BulkCapacitance / doubled);
        return Load == BulkLoad.Resistor ? 2 * LoadResistance * farads : farads * volts * volts / (2 * LoadPower);
    }
}
