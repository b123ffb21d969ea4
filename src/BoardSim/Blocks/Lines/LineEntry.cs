using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Lines;

/// <summary>Line entry of a board: terminals, fuse, varistor, X capacitor with bleeder, common-mode choke, Y capacitors.</summary>
public sealed partial class LineEntry : Block
{
    /// <inheritdoc/>
    public override string Id => "line-entry";

    /// <inheritdoc/>
    public override string Title => "Line entry: fuse, varistor, line filter";

    /// <inheritdoc/>
    public override string Summary =>
        "The first parts behind the plug: they open when something behind them fails, swallow surges, keep the converter's noise on the board, and let the plug's pins "
        + "discharge. Shows when a fuse opens, what a varistor lets through, what a faded capacitor does to the filter, and what flows to earth.";

    /// <inheritdoc/>
    public override string Topology => """
         line-in --R_terminal--[F1]--+--------+--------+--------+---UUUU--R_choke1--+-- line-out
                                     |        |        |        |   L_choke1        |
                                   RV1      C_x    R_bleeder    |    (coupled)     === C_y1
                                     |        |        |        |                   |
         neutral-in -----------------+--------+--------+--------+   earth o---------+
                                                                |                   |
                                                                |                  === C_y2
                                                                |   L_choke2        |
                                                                +---UUUU--R_choke2--+-- neutral-out
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <summary>Nominal supply of the bench.</summary>
    [Choice("supply", "Nominal mains supply of the bench.", OnBenchOnly = true)]
    public MainsSupply Supply { get; set; } = MainsSupply.Mains120V;

    /// <summary>Resistance of the bench's load in ohms.</summary>
    [Quantity("load.resistance", "ohm", 0.1, 1e9, "Resistance of the bench's load.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 500;

    /// <summary>Instant in seconds when the bench pulls the plug; null for never.</summary>
    [Quantity("unplug.at", "s", 1e-3, 1000, "When the bench pulls the plug; never unless set.", OnBenchOnly = true)]
    public double? UnplugAt { get; set; }

    /// <summary>Surge of the bench in volts; null for none.</summary>
    [Quantity("surge.level", "V", -6000, 6000, "Open-circuit peak of a combination wave 1.2/50 - 8/20 us (IEC 61000-4-5) from the bench; none unless set.", OnBenchOnly = true)]
    public double? SurgeLevel { get; set; }

    /// <summary>Instant in seconds of the surge.</summary>
    [Quantity("surge.at", "s", 1e-4, 1000, "When the bench's surge comes.", OnBenchOnly = true)]
    public double SurgeAt { get; set; } = 33.3e-3;

    /// <summary>Noise that the bench puts behind the filter.</summary>
    [Choice("noise.kind", "Noise of 1 V that the bench puts behind the filter in place of a converter, with line impedance networks (CISPR 16-1-2, 50 ohm and 50 uH) in place of the mains.", OnBenchOnly = true)]
    public NoiseKind Noise { get; set; }

    /// <summary>Source resistance of the noise in ohms.</summary>
    [Quantity("noise.resistance", "ohm", 0.1, 100e3, "Source resistance of the bench's noise.", OnBenchOnly = true)]
    public double NoiseResistance { get; set; } = 50;

    /// <summary>Frequency of the noise in hertz.</summary>
    [Quantity("noise.frequency", "Hz", 1e3, 100e6, "Frequency of the bench's noise in a run over time; a frequency response has a range of its own.", OnBenchOnly = true)]
    public double NoiseFrequency { get; set; } = 150e3;

    /// <summary>What of the filter is computed.</summary>
    [Choice("detail", "What of the filter is computed: all, its ringing at some hundred kilohertz included, or what shows at line frequency, with that ringing damped: much faster over seconds of board time, but no good for surges and noise.")]
    public FilterDetail Detail { get; set; }

    /// <summary>Rated current of the fuse in amperes.</summary>
    [Quantity("fuse.rated-current", "A", 0.05, 20, "Rated current of the fuse.")]
    public double FuseRated { get; set; } = 2;

    /// <summary>Melting I2t of the fuse in ampere squared seconds.</summary>
    [Quantity("fuse.melting-integral", "A2s", 1e-3, 10e3, "Melting I2t of the fuse at ten times its rated current; some 10 A2s for a time-lag fuse of 2 A.")]
    public double FuseIntegral { get; set; } = 9.7;

    /// <summary>Cold resistance of the fuse in ohms.</summary>
    [Quantity("fuse.resistance", "ohm", 1e-4, 100, "Cold resistance of the fuse.")]
    public double FuseResistance { get; set; } = 0.06;

    /// <summary>Varistor voltage at 1 mA in volts.</summary>
    [Quantity("varistor.voltage", "V", 10, 2000, "Varistor voltage at 1 mA: 240 V for a 120 V line, 430 V for a 230 V line.")]
    public double VaristorVoltage { get; set; } = 240;

    /// <summary>Exponent of the varistor.</summary>
    [Quantity("varistor.exponent", "", 3, 60, "Exponent alpha of the varistor's I = K V^alpha; 15 to 50 for zinc oxide.")]
    public double VaristorExponent { get; set; } = 23;

    /// <summary>Temperature of the air around the board in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of the air around the board.")]
    public double Ambient { get; set; } = 298.15;

    /// <summary>Thermal resistance of the line terminal in kelvin per watt.</summary>
    [Quantity("terminal.thermal-resistance", "K/W", 0.5, 500, "Thermal resistance of the line terminal with the ends of its wire to the air: 15 to 40 K/W for a screw or tab of appliance size.")]
    public double TerminalThermalResistance { get; set; } = 25;

    /// <summary>Heat capacity of the line terminal in joules per kelvin.</summary>
    [Quantity("terminal.heat-capacity", "J/K", 1e-3, 100, "Heat capacity of the line terminal: 3 g of brass have about 1 J/K; with the thermal resistance half a minute.")]
    public double TerminalHeatCapacity { get; set; } = 1;

    /// <summary>X capacitor in farads.</summary>
    [Quantity("x.capacitance", "F", 1e-9, 10e-6, "X capacitor, line to neutral; 100 nF to 1 uF.")]
    public double XCapacitance { get; set; } = 220e-9;

    /// <summary>Bleeder in ohms.</summary>
    [Quantity("bleeder.resistance", "ohm", 10e3, 100e6, "Resistor that discharges the X capacitor: 1 Mohm with 220 nF makes 0.22 s.")]
    public double BleederResistance { get; set; } = 1e6;

    /// <summary>Y capacitors in farads, each.</summary>
    [Quantity("y.capacitance", "F", 10e-12, 100e-9, "Each of the two Y capacitors, to protective earth; 1 to 4.7 nF.")]
    public double YCapacitance { get; set; } = 2.2e-9;

    /// <summary>Inductance of each winding of the choke in henries.</summary>
    [Quantity("choke.inductance", "H", 1e-6, 1, "Inductance of each winding of the common-mode choke; 5 to 40 mH.")]
    public double ChokeInductance { get; set; } = 15e-3;

    /// <summary>Leakage of the choke as a share of its inductance.</summary>
    [Quantity("choke.leakage", "", 1e-4, 0.5, "Leakage inductance of the choke as a share of its inductance: 0.5 to 2 %; it is what filters differential noise.")]
    public double ChokeLeakage { get; set; } = 0.01;

    /// <summary>Resistance of each winding of the choke in ohms.</summary>
    [Quantity("choke.resistance", "ohm", 1e-3, 100, "Resistance of each winding of the choke.")]
    public double ChokeResistance { get; set; } = 0.3;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line-in", Node = "inlet", Description = "Line from the plug." },
        new() { Name = "neutral-in", Node = "neutral", Description = "Neutral from the plug." },
        new() { Name = "earth", Node = Circuit.Ground, Description = "Protective earth." },
        new() { Name = "line-out", Node = "out", Description = "Line behind the filter." },
        new() { Name = "neutral-out", Node = "neutral-out", Description = "Neutral behind the filter." },
    ];

    private static readonly string[] MainsParts =
        ["V_line", "R_line", "L_line", "R_neutral", "R_earth", "C_neighbours", "C_wiring", "S_plug", "V_hand", "V_charge", "R_charge", "C_surge", "V_surge", "S_surge", "R_surge1", "R_surge2", "L_surge", "R_surge3", "C_coupling"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line", "S_plug", "R_neutral"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = [.. MainsParts, "R_cord", "R_load", .. NoiseParts];

    /// <inheritdoc/>
    protected override Board Wire()
    {
        // The bench's outlet is the mains block as it stands; what it calls line is the inlet here.
        var mains = new MainsOutlet { LineDetail = LineDetail, Supply = Supply, UnplugAt = UnplugAt, SurgeLevel = SurgeLevel, SurgeAt = SurgeAt }.Build();
        var circuit = new Circuit { Title = Title, Temperature = Ambient };
        if (Noise == NoiseKind.None)
        {
            foreach (var device in mains.Circuit.Devices.Where(d => MainsParts.Contains(d.Name)))
            {
                circuit.Add(device.Clone());
            }

            circuit.Add(new Resistor("R_cord", "plug", "inlet", 0.05));
        }
        else
        {
            AddNoise(circuit);
        }

        circuit.Add(new ThermalJoint("R_terminal", "inlet", "terminal", 5e-3) { ThermalResistance = TerminalThermalResistance, HeatCapacity = TerminalHeatCapacity });
        circuit.Add(new Fuse("F1", "terminal", "fused", FuseResistance, FuseIntegral, 1.55 * FuseRated));
        circuit.Add(new Varistor("RV1", "fused", "neutral", VaristorVoltage, 1e-3, VaristorExponent) { Capacitance = 500e-12 });
        circuit.Add(new Capacitor("C_x", "fused", "neutral", XCapacitance) { SeriesResistance = 0.1 });
        circuit.Add(new Resistor("R_bleeder", "fused", "neutral", BleederResistance));
        circuit.Add(new Inductor("L_choke1", "fused", "choke1", ChokeInductance));
        circuit.Add(new Inductor("L_choke2", "neutral", "choke2", ChokeInductance));
        circuit.Add(new Coupling("K_choke", "L_choke1", "L_choke2", 1 - ChokeLeakage));
        circuit.Add(new Resistor("R_choke1", "choke1", "out", ChokeResistance));
        circuit.Add(new Resistor("R_choke2", "choke2", "neutral-out", ChokeResistance));

        // Core loss keeps the choke's resonance with the Y capacitors flat, as ferrite does. At line frequency nothing is left of what rings beyond: windings
        // in parallel with half the impedance of leakage and Y capacitor do not ring at all.
        var leakage = ChokeLeakage * ChokeInductance;
        var core = Detail == FilterDetail.Full ? 20e3 : 0.5 * Math.Sqrt(leakage / YCapacitance);
        circuit.Add(new Resistor("R_core1", "fused", "choke1", core));
        circuit.Add(new Resistor("R_core2", "neutral", "choke2", core));
        circuit.Add(new Capacitor("C_y1", "out", Circuit.Ground, YCapacitance) { SeriesResistance = 0.5 });
        circuit.Add(new Capacitor("C_y2", "neutral-out", Circuit.Ground, YCapacitance) { SeriesResistance = 0.5 });
        circuit.Add(new Resistor("R_load", "out", "neutral-out", LoadResistance));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = [.. Points(), .. Noise == NoiseKind.None ? [] : Receivers()],
            Currents = [.. Clamps().Where(c => circuit.Find(c.Part) is not null)],
            States =
            [
                new() { Name = "terminal-temperature", Part = "R_terminal", State = "temperature", Unit = "degC", Description = "Temperature of the line terminal: that of the air while it is tight." },
                new() { Name = "fuse-melting", Part = "F1", State = "melted-share", Unit = "", Description = "How far the fuse's element is on its way to melting: 1 melts it." },
                new() { Name = "fuse-open", Part = "F1", State = "open", Unit = "", Description = "1 when the fuse has opened." },
            ],
            LineFrequency = mains.LineFrequency,
            LineByRms = mains.LineByRms,
            SuggestedStop = Noise == NoiseKind.None ? mains.SuggestedStop : 20 / NoiseFrequency,
            SettledFrom = Noise == NoiseKind.None ? mains.SettledFrom : 10 / NoiseFrequency,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private static List<TestPoint> Points() =>
    [
        Point("inlet", "inlet", "neutral", Reference.Neutral, "Line at the board's terminals."),
        Point("terminal", "inlet", "terminal", Reference.AcrossPart, "Across the line terminal: millivolts while it is tight, volts when it is loose."),
        Point("fused", "fused", "neutral", Reference.Neutral, "Line behind the fuse: zero when it has opened."),
        Point("fuse", "terminal", "fused", Reference.AcrossPart, "Across the fuse: millivolts while it is whole, the line when it has opened."),
        Point("output", "out", "neutral-out", Reference.Neutral, "Line behind the filter, at the bridge."),
        Point("output-to-earth", "out", Circuit.Ground, Reference.ProtectiveEarth, "Line behind the filter against protective earth."),
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "line", Part = "R_terminal", Description = "Current through terminal and fuse.", LineSide = true },
        new() { Name = "varistor", Part = "RV1", Description = "Current through the varistor: microamperes, hundreds of amperes in a surge.", LineSide = true },
        new() { Name = "x-capacitor", Part = "C_x", Description = "Current through the X capacitor.", LineSide = true },
        new() { Name = "output", Part = "R_choke1", Description = "Current through the choke into what is behind the filter.", LineSide = true },
        new() { Name = "earth", Part = "R_earth", Description = "Current back from earth to the service entrance, when it flows to earth on the board.", LineSide = true },
        new() { Name = "earth-from-line", Part = "C_y1", Description = "Current from the line side through its Y capacitor to earth.", LineSide = true },
        new() { Name = "earth-from-neutral", Part = "C_y2", Description = "Current from the neutral side through its Y capacitor to earth: next to none, for neutral is near earth.", LineSide = true },
    ];

    private static TestPoint Point(string name, string node, string reference, Reference kind, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = reference,
        Reference = kind,
        Description = description,
        LineSide = true,
    };
}
