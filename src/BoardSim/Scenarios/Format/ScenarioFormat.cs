using BoardSim.Quantities;

namespace BoardSim.Scenarios.Format;

/// <summary>The keys of a scenario file. Reader, messages and schema all come from here.</summary>
internal static class ScenarioFormat
{
    private static readonly TextType Text = new();
    private static readonly NameType Name = new();
    private static readonly WindowType Window = new();

    /// <summary>Word that puts a fault in at its usual severity, or one that has none.</summary>
    public const string Present = "present";

    public static FieldSet Run { get; } = new(
        "run",
        new Field("compute", Choice(Words.Computation), "What is computed: waveforms over time (the usual), or the circuit at rest."),
        new Field("power", Choice(Words.Power), "Whether the board has power; it has without this."),
        new Field("start", Choice(Words.Start), "Where a run over time starts; without it, where the block usually starts."),
        new Field("periods", new CountType(1, 100_000), "Periods to compute of a run that starts periodic, in place of \"stop\"; without it, as many as the block suggests."),
        new Field("stop", new QuantityType(Unit.Second, 0, 1e7, Above: true), "End of the run; without it, what the block suggests."),
        new Field("record-from", new QuantityType(Unit.Second, 0, 1e7), "Time from which waveforms are recorded; 0 s without it."),
        new Field("from-frequency", new QuantityType(Unit.Hertz, 1e-6, 1e12), "First frequency of a frequency response; 10 Hz without it."),
        new Field("to-frequency", new QuantityType(Unit.Hertz, 1e-6, 1e12), "Last frequency of a frequency response; 1 MHz without it."),
        new Field("points-per-decade", new CountType(1, 1000), "Frequencies in each decade of a frequency response, at equal ratios; 50 without it."),
        new Field("accuracy", new QuantityType(Unit.Ratio, 1e-8, 0.1), "Relative accuracy of the computation; 0.001 without it."),
        new Field("alike-periods", Choice(Words.AlikePeriods), "What is done with switching periods of a run over time that are nearly alike; without it, those of a converter with a clock of its own are leapt over."));

    public static FieldSet Condition { get; } = new(
        "condition",
        new Field("label", Text, "What figures and tables call it; its name without this."),
        new Field("faults", new OfBlockType(BlockNames.Faults), "Faults by id with their severities, applied in this order. The condition named healthy has none."),
        new Field("values", new OfBlockType(BlockNames.Values), "Values of the block for this condition alone."));

    public static FieldSet Observation { get; } = new(
        "observation",
        new Field("label", Text, "What figures and tables call it; its name without this."),
        new Field("point", new OfBlockType(BlockNames.TestPoint), "Test point that the red lead touches."),
        new Field("against", new OfBlockType(BlockNames.LeadPlace), "Test point or reference (neutral, say) that the black lead touches in place of the point's own reference: a wrong reference, on purpose."),
        new Field("current", new OfBlockType(BlockNames.Current), "Current that is observed, in place of a test point."),
        new Field("readout", new OfBlockType(BlockNames.Readout), "What is worked out of the voltage at a pin (by the board's program, by an ohmmeter), in place of a test point."),
        new Field("state", new OfBlockType(BlockNames.State), "State of a part that nobody can probe (a temperature, a speed, a count of resets), in place of a test point."),
        new Field("show", Choice(Words.Shown), "What is shown of a readout or of a frequency response; without it the value of a readout, the level of a plain ratio, the magnitude of another response."),
        new Field("per-point", new OfBlockType(BlockNames.TestPoint), "Test point that a frequency response is divided by."),
        new Field("per-current", new OfBlockType(BlockNames.Current), "Current that a frequency response is divided by."),
        new Field("instrument", Choice(Words.Instrument), "What is connected; an oscilloscope for a test point without this, nothing for the others."),
        new Field("settings", new ObjectType(InstrumentFormat.Settings), "What is set at the instrument, or what kind of specimen it is; which keys it has depends on the instrument."),
        new Field("coupling", Choice(Words.Coupling), "Coupling of the oscilloscope or differential probe; dc without it."),
        new Field("over", Window, "Stretch of time that a meter's reading is taken over; all of the record without it."));

    public static FieldSet Metric { get; } = new(
        "metric",
        new Field("label", Text, "What figures and tables call it; its name without this."),
        new Field("take", new MetricType(), "What is derived.", Required: true),
        new Field("of", Name, "Observation that it is derived from.", Required: true),
        new Field("and", Name, "Second observation, for metrics that need a voltage and a current."),
        new Field("over", Window, "Stretch of time that is looked at; all of the record without it."),
        new Field("with", new MetricParametersType(), "Parameters of the metric."));

    public static FieldSet Sweep { get; } = new(
        "sweep",
        new Field("vary", new OfBlockType(BlockNames.SweepableValue), "Value of the block that is stepped through the points, under every condition."),
        new Field("severity-of", new OfBlockType(BlockNames.FaultWithSeverity), "Fault whose severity is stepped through the points, in the conditions that have it."),
        new Field("label", Text, "What figures call the swept quantity; its key or fault without this."),
        new Field("points", new ListType(new AnyQuantityType()), "The points, one by one."),
        new Field("from", new AnyQuantityType(), "First point of an even range."),
        new Field("to", new AnyQuantityType(), "Last point of an even range."),
        new Field("count", new CountType(2, 100_000), "Number of points of an even range."),
        new Field("spacing", Choice(Words.Spacing), "Spacing of an even range; linear without it."),
        new Field("conditions", new ListType(Name), "Conditions that are swept; all of them without it."),
        new Field("record", new ListType(Name), "Metrics and readings that are recorded at each point.", Required: true));

    public static FieldSet ValueTolerance { get; } = new(
        "tolerance of a value",
        new Field("tolerance", new AnyQuantityType(), "Largest deviation: a percentage of the nominal value, or a difference in its unit.", Required: true),
        new Field("distribution", Choice(Words.Scatter), "How values scatter within it; the tolerance run's distribution without it."));

    public static FieldSet Tolerance { get; } = new(
        "tolerance run",
        new Field("of", new OfBlockType(BlockNames.Tolerances), "Values of the block by key with their tolerances: a percentage of the nominal value, or a difference in its unit; or a mapping with tolerance and distribution.", Required: true),
        new Field("distribution", Choice(Words.Scatter), "How values scatter within their tolerances; uniform without it."),
        new Field("samples", new CountType(0, 1_000_000), "Boards that are drawn at random; each is computed under every condition. 1000 without it."),
        new Field("seed", new CountType(0, int.MaxValue), "Seed of the random numbers: the same seed draws the same boards; 1 without it."),
        new Field("corners", Choice(Words.Corners), "Whether every combination of the tolerances' ends is computed as well; none without it, for at most 12 values."),
        new Field("conditions", new ListType(Name), "Conditions that are computed; all of them without it."),
        new Field("record", new ListType(Name), "Metrics and readings that are recorded of each board.", Required: true));

    public static FieldSet Expectation { get; } = new(
        "expectation",
        new Field("that", new ExpectationType(), "What has to come out.", Required: true),
        new Field("why", Text, "The reason behind it.", Required: true));

    public static FieldSet CallOut { get; } = new(
        "call-out",
        new Field("metric", Name, "Metric or reading whose value is written on the figure, one line per condition."),
        new Field("note", Text, "A text, in place of a metric."),
        new Field("at", new AnyQuantityType(), "Where the note stands on the horizontal axis."));

    public static FieldSet Figure { get; } = new(
        "figure",
        new Field("kind", Choice(Words.Figure), "What is drawn.", Required: true),
        new Field("title", Text, "Title.", Required: true),
        new Field("show", new ListType(Name), "Observations for waveforms and responses; recorded metrics and readings for a sweep; one that the tolerance run records for a histogram; metrics and readings for bars.", Required: true),
        new Field("conditions", new ListType(Name), "Conditions that are drawn; all of them without it."),
        new Field("over", Window, "Stretch of time that is drawn; all of the record without it."),
        new Field("call-outs", new ListType(new ObjectType(CallOut)), "Remarks on the figure."));

    public static FieldSet Root { get; } = new(
        "scenario",
        new Field("title", Text, "Title, one line.", Required: true),
        new Field("about", Text, "What the scenario shows and why, a few sentences."),
        new Field("block", new BlockType(), "The block that is run on its bench."),
        new Field("board", Text, "In place of a block: file of the board that is run, as a path from this file's folder."),
        new Field("values", new OfBlockType(BlockNames.Values), "Values of the block that differ from its defaults, under all conditions."),
        new Field("run", new ObjectType(Run), "How the circuit is computed."),
        new Field("conditions", new NamedType(new ObjectType(Condition)), "The states of the board that are run. One is named healthy and has no faults; the others are compared with it.", Required: true),
        new Field("observe", new NamedType(new ObjectType(Observation)), "What is looked at, and with which instrument. All instruments are connected at the same time and load the circuit.", Required: true),
        new Field("metrics", new NamedType(new ObjectType(Metric)), "Numbers that are derived from the observations."),
        new Field("sweep", new ObjectType(Sweep), "One value or severity, stepped through a range."),
        new Field("tolerance", new ObjectType(Tolerance), "Values that scatter within their tolerances over many boards."),
        new Field("expect", new ListType(new ObjectType(Expectation)), "What has to come out; the run fails when it does not.", Required: true),
        new Field("figures", new NamedType(new ObjectType(Figure)), "Figures to draw; the name is the name of the file."));

    private static ChoiceType Choice<T>(IReadOnlyList<Word<T>> words) => new([.. words.Select(w => new Word(w.Name, w.Description))]);
}
