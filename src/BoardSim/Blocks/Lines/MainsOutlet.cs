using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Lines;

/// <summary>The mains at an outlet, with its impedance, the plug, and what can happen to it: dips, interruptions, brown-outs, a surge.</summary>
public sealed class MainsOutlet : Block
{
    /// <inheritdoc/>
    public override string Id => "mains";

    /// <inheritdoc/>
    public override string Title => "Mains outlet with plug, dips, brown-outs and surges";

    /// <inheritdoc/>
    public override string Summary =>
        "What a board is plugged into: the line with the impedance of the building's wiring, protective earth, and the plug. Its voltage can dip, vanish for some cycles, "
        + "sag and come back, and a lightning surge can be laid upon it at any phase angle.";

    /// <inheritdoc/>
    public override string Topology => """
                  R_line  L_line   S_plug
          +-(~)----/\/\----UUUU--+--o o-- line
          | V_line               |
          |                      +--||--- surge generator (only when a surge is set)
          |       R_neutral      |
        bond------/\/\-----------+------- neutral
          |       R_earth
          +-------/\/\------------------- earth
        (neutral is bonded to protective earth at the service entrance)
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <summary>Nominal mains supply.</summary>
    [Choice("supply", "Nominal mains supply: 120 V at 60 Hz or 230 V at 50 Hz.")]
    public MainsSupply Supply { get; set; } = MainsSupply.Mains120V;

    /// <summary>What of the line is computed.</summary>
    [Choice("detail", "What of the line is computed, for all that hangs on it: its sine, or its RMS value as if it were a direct voltage. The latter has the same heat in resistances and lets hours of a day be run in seconds; "
        + "phase, frequency, inrush, surges and reactive currents are not in it, and what lives by them (solenoids, motors, doublers) is refused. Voltages and currents of the line side are RMS values then.")]
    public LineDetail Detail
    {
        get => LineDetail;
        set => LineDetail = value;
    }

    /// <summary>RMS line voltage in volts; null for the nominal one.</summary>
    [Quantity("line.voltage", "V", 20, 300, "RMS voltage of the unloaded line; the supply's nominal voltage unless set.")]
    public double? LineVoltage { get; set; }

    /// <summary>Resistance of line and neutral together in ohms.</summary>
    [Quantity("line.resistance", "ohm", 0.01, 50, "Resistance of line and neutral together up to the outlet; 0.2 to 1 ohm in a building.")]
    public double LineResistance { get; set; } = 0.4;

    /// <summary>Inductance of line and neutral together in henries.</summary>
    [Quantity("line.inductance", "H", 1e-6, 10e-3, "Inductance of line and neutral together up to the outlet; 100 uH to 1 mH in a building.")]
    public double LineInductance { get; set; } = 200e-6;

    /// <summary>Phase of the line at switch-on in degrees.</summary>
    [Quantity("line.phase", "deg", 0, 360, "Phase of the line's sine when power comes on; 90 deg is the peak. The RMS value has none.")]
    public double LinePhase { get; set; } = 90;

    /// <summary>Instant in seconds when the plug is pulled; null for never.</summary>
    [Quantity("unplug.at", "s", 1e-3, 1e5, "When the plug is pulled; never unless set.")]
    public double? UnplugAt { get; set; }

    /// <summary>Instant in seconds when it is put in again; null for never.</summary>
    [Quantity("replug.at", "s", 1e-3, 1e5, "When the plug is put in again after it was pulled; never unless set.")]
    public double? ReplugAt { get; set; }

    /// <summary>Instant in seconds when a dip or brown-out begins; null for none.</summary>
    [Quantity("dip.at", "s", 1e-3, 1e5, "When a dip, an interruption or a brown-out begins; none unless set.")]
    public double? DipAt { get; set; }

    /// <summary>Share of the line voltage that is left in it.</summary>
    [Quantity("dip.residual", "", 0, 1.5, "Line voltage that is left, as a share: 0 for an interruption; 0.4, 0.7 and 0.8 are the levels of IEC 61000-4-11.")]
    public double DipResidual { get; set; }

    /// <summary>Time in seconds that the voltage takes to fall and to come back.</summary>
    [Quantity("dip.ramp", "s", 1e-6, 1e4, "Time that the voltage takes to fall, and to come back: microseconds for a dip, seconds for a brown-out.")]
    public double DipRamp { get; set; } = 10e-6;

    /// <summary>Time in seconds that it stays down.</summary>
    [Quantity("dip.for", "s", 1e-4, 1e5, "Time that the voltage stays down.")]
    public double DipFor { get; set; } = 100e-3;

    /// <summary>Open-circuit peak of a surge in volts; null for none.</summary>
    [Quantity("surge.level", "V", -6000, 6000, "Open-circuit peak of a combination wave 1.2/50 - 8/20 us with 2 ohm (IEC 61000-4-5), line to neutral; none unless set. The generator is coupled by 18 uF (standard), which draws its share of line current, 0.8 A at 120 V, while it is there.")]
    public double? SurgeLevel { get; set; }

    /// <summary>Instant in seconds of the surge.</summary>
    [Quantity("surge.at", "s", 1e-4, 1e5, "When the surge comes; with line.phase it says at which angle.")]
    public double SurgeAt { get; set; } = 50e-3;

    /// <summary>Resistance of the bench's load in ohms.</summary>
    [Quantity("load.resistance", "ohm", 0.1, 1e9, "Resistance of the bench's load.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 1000;

    private double Frequency => Supply == MainsSupply.Mains120V ? 60 : 50;

    private double Rms => LineVoltage ?? (Supply == MainsSupply.Mains120V ? 120 : 230);

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line", Node = "plug", Description = "Line behind the plug." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
        new() { Name = "earth", Node = Circuit.Ground, Description = "Protective earth at the appliance." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line", "S_plug", "R_neutral"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["R_load", "C_chassis1", "C_chassis2"];

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults { get; } =
    [
        new(static (board, _) => PartEdits.Open(board, "R_earth"))
        {
            Id = "earth-open",
            Title = "Protective earth open",
            Mechanism = "A broken earth pin or an outlet without earth: the appliance's metal floats to where its Y capacitors put it. Dangerous: isolate it and leave it to licensed practice.",
            Part = "R_earth",
        },
        new(static (board, ohms) => PartEdits.InSeries(board, "R_neutral", ohms))
        {
            Id = "neutral-loose",
            Title = "Neutral loose",
            Mechanism = "A terminal that has worked loose burns slowly: the neutral rises with the current. Live work for licensed practice.",
            Part = "R_neutral",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 10, Minimum = 0.01, Maximum = 1e6, Description = "Resistance of the loose terminal." },
        },
        new(static (board, ohms) => PartEdits.Change<Resistor>(board, "R_line", r => r.Resistance = ohms))
        {
            Id = "line-weak",
            Title = "Weak line",
            Mechanism = "A long, thin extension cord, or one that is wound up and warm: the voltage falls with every ampere.",
            Part = "R_line",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 8, Minimum = 0.01, Maximum = 1e3, Description = "Resistance of the line conductor." },
        },
    ];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (LineDetail == LineDetail.Rms && SurgeLevel is not null)
        {
            yield return "surge.level is set, but with detail: rms there is no instant for a surge to meet; take detail: waveform, or leave the surge out.";
        }

        if (LineDetail == LineDetail.Rms && DipAt is not null && DipRamp < 1 / Frequency)
        {
            yield return "dip.ramp is shorter than a cycle, which an RMS value does not have; take detail: waveform, or a ramp of a cycle or more.";
        }

        if (ReplugAt is { } again && !(UnplugAt < again))
        {
            yield return UnplugAt is null ? "replug.at is set but unplug.at is not: say when the plug is pulled as well." : "replug.at must be later than unplug.at.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "service", "bond", Waveform()));

        // IEC 60725 splits the reference impedance of a supply 3 to 2 between line and neutral.
        circuit.Add(new Resistor("R_line", "service", "wall", 0.6 * LineResistance));
        circuit.Add(new Inductor("L_line", "wall", "outlet", LineInductance));
        circuit.Add(new Resistor("R_neutral", "bond", "neutral", 0.4 * LineResistance));
        circuit.Add(new Resistor("R_earth", "bond", Circuit.Ground, 0.1));

        LineWiring.AddTo(circuit, "outlet", LineInductance);
        AddPlug(circuit);
        if (SurgeLevel is { } level)
        {
            AddSurge(circuit, level);
        }

        circuit.Add(new Resistor("R_load", "plug", "neutral", LoadResistance));

        // What any appliance has between its metal and both conductors.
        circuit.Add(new Capacitor("C_chassis1", "plug", Circuit.Ground, 2.2e-9) { SeriesResistance = 1 });
        circuit.Add(new Capacitor("C_chassis2", "neutral", Circuit.Ground, 2.2e-9) { SeriesResistance = 1 });
        var ends = new[] { 6 / Frequency, UnplugAt + 0.1, ReplugAt + 0.1, DipAt + 2 * DipRamp + DipFor + 0.1, SurgeLevel is null ? null : SurgeAt + 1 / Frequency };
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints =
            [
                Point("line", "plug", "neutral", Reference.Neutral, "Line against neutral at the plug."),
                Point("line-to-earth", "plug", Circuit.Ground, Reference.ProtectiveEarth, "Line against protective earth at the plug."),
                Point("neutral", "neutral", Circuit.Ground, Reference.ProtectiveEarth, "Neutral against protective earth: the drop along the neutral conductor."),
                Point("plug-pins", "plug", "neutral", Reference.AcrossPart, "Across the pins of the plug, pulled or not."),
            ],
            Currents =
            [
                new() { Name = "line", Part = "R_line", Description = "Current from the line.", LineSide = true },
                new() { Name = "earth", Part = "R_earth", Description = "Current back through protective earth, from earth to the service entrance when negative: next to none on a healthy board.", LineSide = true },
            ],
            LineFrequency = LineDetail == LineDetail.Rms ? null : Frequency,
            LineByRms = LineDetail == LineDetail.Rms,
            SuggestedStop = ends.Max(),
            SettledFrom = 2 / Frequency,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private SourceWaveform Waveform()
    {
        var peak = Math.Sqrt(2) * Rms;
        if (DipAt is not { } at)
        {
            return LineDetail == LineDetail.Rms ? new DcWaveform(Rms) : new SineWaveform { Amplitude = peak, Frequency = Frequency, PhaseDegrees = LinePhase };
        }

        double[] times = [0, at, at + DipRamp, at + DipRamp + DipFor, at + 2 * DipRamp + DipFor];
        double[] shares = [1, 1, DipResidual, DipResidual, 1];
        return LineDetail == LineDetail.Rms
            ? new PiecewiseLinearWaveform(times, [.. shares.Select(s => s * Rms)])
            : new EnvelopeSineWaveform(peak, Frequency, LinePhase, new PiecewiseLinearWaveform(times, shares));
    }

    private void AddPlug(Circuit circuit)
    {
        if (UnplugAt is not { } off)
        {
            circuit.Add(new Resistor("S_plug", "outlet", "plug", 1e-3));
            return;
        }

        const double edge = 1e-6;
        var (times, levels) = (new List<double> { 0, off, off + edge }, new List<double> { 1, 1, 0 });
        if (ReplugAt is { } on)
        {
            times.AddRange([on, on + edge]);
            levels.AddRange([0, 1]);
        }

        circuit.Add(new VoltageSource("V_hand", "hand", Circuit.Ground, new PiecewiseLinearWaveform(times, levels)));
        circuit.Add(new VoltageSwitch("S_plug", "outlet", "plug", "hand", Circuit.Ground, new SwitchModel { OnResistance = 1e-3, OffResistance = 1e9, Threshold = 0.5, Hysteresis = 0.1 }) { InitiallyOn = true });
    }

    /// <summary>
    /// Combination-wave generator: a charged capacitor into a network that gives 1.2/50 us when open and 8/20 us when shorted, coupled through the 18 uF of
    /// IEC 61000-4-5. Values of the network: Hesterman and Powell's model of the generator, from memory; a test holds the waves to
    /// the standard's own definitions.
    /// </summary>
    private void AddSurge(Circuit circuit, double level)
    {
        // The charging source keeps the store full whatever the run starts from; what it gives while the wave lasts is nothing.
        circuit.Add(new VoltageSource("V_charge", "surge-charge", "neutral", new DcWaveform(1.082 * level)));
        circuit.Add(new Resistor("R_charge", "surge-charge", "surge-store", 100e3));
        circuit.Add(new Capacitor("C_surge", "surge-store", "neutral", 6.038e-6) { InitialVoltage = 1.082 * level });
        double[] times = [0, SurgeAt, SurgeAt + 1e-9];
        circuit.Add(new VoltageSource("V_surge", "surge-hand", Circuit.Ground, new PiecewiseLinearWaveform(times, [0, 0, 1])));
        circuit.Add(new VoltageSwitch("S_surge", "surge-store", "surge-drive", "surge-hand", Circuit.Ground, new SwitchModel { OnResistance = 1e-3, OffResistance = 1e9, Threshold = 0.5, Hysteresis = 0.1 }));
        circuit.Add(new Resistor("R_surge1", "surge-drive", "neutral", 25.105));
        circuit.Add(new Resistor("R_surge2", "surge-drive", "surge-form", 0.941));
        circuit.Add(new Inductor("L_surge", "surge-form", "surge-out", 10.37e-6));
        circuit.Add(new Resistor("R_surge3", "surge-out", "neutral", 19.80));
        circuit.Add(new Capacitor("C_coupling", "surge-out", "outlet", 18e-6));
    }

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
