using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Tests.Designs;

/// <summary>A source with its inner resistance; its bench loads it.</summary>
internal sealed class SourceHalf : Block
{
    [Quantity("voltage", "V", 0, 100, "Source voltage.")]
    public double Voltage { get; set; } = 10;

    [Quantity("resistance", "ohm", 1, 1e6, "Inner resistance.")]
    public double Resistance { get; set; } = 1000;

    [Quantity("load", "ohm", 1, 1e6, "Load of the bench.", OnBenchOnly = true)]
    public double Load { get; set; } = 50;

    [Quantity("ambient", "degC", 233.15, 378.15, "Air.")]
    public double Ambient { get; set; } = 298.15;

    public override string Id => "source-half";

    public override string Title => "Source";

    public override string Summary => "A source.";

    public override string Topology => "V - R - out";

    public override bool LineSide => false;

    public override IReadOnlyList<Port> Ports =>
    [
        new() { Name = "out", Node = "out", Description = "Output." },
        new() { Name = "ground", Node = "0", Description = "Return." },
    ];

    public override IReadOnlyList<string> BenchParts => ["R_load"];

    public override IReadOnlyList<FaultDefinition> Faults =>
    [
        new(static (board, ohms) => PartEdits.InSeries(board, "R_inner", ohms))
        {
            Id = "joint-poor",
            Title = "Poor joint",
            Mechanism = "Corrosion.",
            Part = "R_inner",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 2000, Minimum = 1, Maximum = 1e6, Description = "Resistance of the joint." },
        },
        new(static (board, _) => PartEdits.Short(board, "R_load"))
        {
            Id = "load-shorted",
            Title = "Load shorted",
            Mechanism = "The bench's load.",
            Part = "R_load",
        },
    ];

    protected override Board Wire()
    {
        var circuit = new Circuit { Temperature = Ambient };
        circuit.Add(new VoltageSource("V1", "source", "0", new DcWaveform(Voltage)));
        circuit.Add(new Resistor("R_inner", "source", "out", Resistance));
        circuit.Add(new Resistor("R_load", "out", "0", Load));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = [new TestPoint { Name = "out", Node = "out", ReferenceNode = "0", Reference = Reference.BoardGround, Description = "Output." }],
            Currents =
            [
                new CurrentPoint { Name = "inner", Part = "R_inner", Description = "Out of the source." },
                new CurrentPoint { Name = "load", Part = "R_load", Description = "Into the bench's load." },
            ],
        };
    }
}

/// <summary>A load with two coupled windings, so that parts refer to each other by name; its bench feeds it.</summary>
internal sealed class LoadHalf : Block
{
    [Quantity("resistance", "ohm", 1, 1e6, "Resistance of the load.")]
    public double Resistance { get; set; } = 1000;

    public override string Id => "load-half";

    public override string Title => "Load";

    public override string Summary => "A load.";

    public override string Topology => "in - R - ground";

    public override bool LineSide => false;

    public override IReadOnlyList<Port> Ports =>
    [
        new() { Name = "in", Node = "in", Description = "Input." },
        new() { Name = "ground", Node = "0", Description = "Return." },
        new() { Name = "sense", Node = "sense", Description = "Second winding.", IsOptional = true },
    ];

    public override IReadOnlyList<string> BenchParts => ["V_feed"];

    public override IReadOnlyList<FaultDefinition> Faults => [];

    protected override Board Wire()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V_feed", "in", "0", new DcWaveform(5)));
        circuit.Add(new Inductor("L1", "in", "middle", 1e-3));
        circuit.Add(new Resistor("R_load", "middle", "0", Resistance));
        circuit.Add(new Inductor("L2", "sense", "0", 1e-3));
        circuit.Add(new Coupling("K1", "L1", "L2", 0.5));
        circuit.Add(new Resistor("R_sense", "sense", "0", 1e6));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = [new TestPoint { Name = "in", Node = "in", ReferenceNode = "0", Reference = Reference.BoardGround, Description = "Input." }],
        };
    }
}
