using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Blocks.AcLoads;

/// <summary>Heating element on the line, which warms a node of a thermal circuit.</summary>
public sealed class Heater : Block
{
    /// <inheritdoc/>
    public override string Id => "heater";

    /// <inheritdoc/>
    public override string Title => "Heating element";

    /// <inheritdoc/>
    public override string Summary =>
        "What a relay's contact switches most often: a resistance on the line, hot within a minute. Its heat goes into a thermal circuit, so that a chamber warms up with it.";

    /// <inheritdoc/>
    public override string Topology => """
         line o---[R_element]---o neutral
                      :
                      : heat (W)
                      v
                    heat o   (1 V is 1 degC, 1 A is 1 W)
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

    /// <summary>Thermal conductance of the bench in watts per kelvin.</summary>
    [Quantity("bench.conductance", "W/K", 1e-3, 1e3, "Heat that the bench takes from the element per kelvin above 25 degC.", OnBenchOnly = true)]
    public double BenchConductance { get; set; } = 1;

    /// <summary>Resistance at 20 degC in ohms.</summary>
    [Quantity("element.resistance", "ohm", 0.1, 1e6, "Resistance of the element at 20 degC: 96 ohm make 150 W at 120 V.")]
    public double Resistance { get; set; } = 96;

    /// <summary>Temperature coefficient in 1/K.</summary>
    [Quantity("element.coefficient", "1/K", 0, 0.01, "Temperature coefficient of the element: 0.0001 to 0.0004 1/K for heating wire.")]
    public double Coefficient { get; set; } = 2e-4;

    /// <summary>Heat capacity in joules per kelvin.</summary>
    [Quantity("element.heat-capacity", "J/K", 0.1, 1e5, "Heat capacity of the element.")]
    public double HeatCapacity { get; set; } = 60;

    /// <summary>Temperature at the start in kelvin.</summary>
    [Quantity("element.start-temperature", "degC", 233.15, 1273.15, "Temperature of the element at the start.")]
    public double StartTemperature { get; set; } = 295.15;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line", Node = "line", Description = "Switched line." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
        new() { Name = "heat", Node = "heat", Description = "The element's temperature and the heat that it gives off, in a thermal circuit." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_line", "R_bond", "C_bond", "R_loss", "V_room"];

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults { get; } =
    [
        new(static (board, _) => PartEdits.Open(board, "R_element"))
        {
            Id = "element-open",
            Title = "Heating element open",
            Mechanism = "The wire has burnt through at a hot spot or at its terminal.",
            Part = "R_element",
        },
        new(static (board, share) => PartEdits.Change<HeatingElement>(board, "R_element", r => r.ResistanceAt20 *= share))
        {
            Id = "element-shorted",
            Title = "Part of the element shorted",
            Mechanism = "A sagging coil touches itself: less resistance, more heat in what is left.",
            Part = "R_element",
            Severity = new SeverityDefinition { Unit = "", Default = 0.7, Minimum = 0.001, Maximum = 1, Description = "Resistance that is left, as a share." },
        },
        new(static (board, ohms) => PartEdits.InSeries(board, "R_element", ohms))
        {
            Id = "terminal-burnt",
            Title = "Terminal burnt",
            Mechanism = "A loose tab oxidises in its own heat: part of the power goes into the connector.",
            Part = "R_element",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 15, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance of the terminal." },
        },
    ];

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "line", "neutral", LoadPoints.Line(LineDetail, LineVoltage, LineFrequency)));
        LineWiring.AddBond(circuit);
        circuit.Add(new HeatingElement("R_element", "line", "neutral", "heat", Resistance)
        {
            Coefficient = Coefficient,
            HeatCapacity = HeatCapacity,
            StartTemperature = StartTemperature,
        });
        circuit.Add(new Resistor("R_loss", "heat", "room", 1 / BenchConductance));
        circuit.Add(new VoltageSource("V_room", "room", Circuit.Ground, 25));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints =
            [
                new TestPoint { Name = "element", Node = "line", ReferenceNode = "neutral", Reference = Reference.Neutral, Description = "Across the element: the line while it heats.", LineSide = true },
            ],
            Currents = [new CurrentPoint { Name = "element", Part = "R_element", Description = "Current through the element.", LineSide = true }],
            Readouts =
            [
                new Readout { Name = "element-temperature", Node = "heat", ReferenceNode = Circuit.Ground, Unit = "degC", Description = "Temperature of the element.", Convert = volts => volts + 273.15 },
            ],
            LineFrequency = LineDetail == LineDetail.Rms ? null : LineFrequency,
            LineByRms = LineDetail == LineDetail.Rms,
            SuggestedStop = 6 / LineFrequency,
            SettledFrom = 1 / LineFrequency,
            StartsAtRest = true,
            LineSide = true,
        };
    }
}
