using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Designs;

/// <summary>Kinds of parts that a board has between its blocks.</summary>
public enum LoosePartKind
{
    /// <summary>A resistor, a wire with its resistance, a bond.</summary>
    Resistor,

    /// <summary>A capacitor.</summary>
    Capacitor,

    /// <summary>An inductor, a wire with its inductance.</summary>
    Inductor,
}

/// <summary>A part of its own between two nets of a board. It is placed as blocks are, so that its value can be set and it can fail.</summary>
public sealed class LoosePart : Block
{
    private const string PartName = "part";

    /// <summary>Creates a part.</summary>
    /// <param name="kind">What it is.</param>
    /// <param name="value">Its resistance in ohms, capacitance in farads or inductance in henries, positive.</param>
    public LoosePart(LoosePartKind kind, double value)
    {
        Kind = kind;
        (Resistance, Capacitance, Inductance) = (1, 1e-9, 1e-6);
        switch (kind)
        {
            case LoosePartKind.Resistor:
                Resistance = value;
                break;
            case LoosePartKind.Capacitor:
                Capacitance = value;
                break;
            default:
                Inductance = value;
                break;
        }
    }

    /// <summary>Creates a resistor of an ohm.</summary>
    public LoosePart()
        : this(LoosePartKind.Resistor, 1)
    {
    }

    /// <summary>What it is.</summary>
    public LoosePartKind Kind { get; }

    /// <summary>Resistance of a resistor in ohms.</summary>
    [Quantity("resistance", "ohm", 1e-6, 1e12, "Resistance of the part.")]
    public double Resistance { get; set; }

    /// <summary>Capacitance of a capacitor in farads.</summary>
    [Quantity("capacitance", "F", 1e-15, 1, "Capacitance of the part.")]
    public double Capacitance { get; set; }

    /// <summary>Inductance of an inductor in henries.</summary>
    [Quantity("inductance", "H", 1e-12, 100, "Inductance of the part.")]
    public double Inductance { get; set; }

    /// <inheritdoc/>
    public override string Id => Kind switch
    {
        LoosePartKind.Resistor => "resistor",
        LoosePartKind.Capacitor => "capacitor",
        _ => "inductor",
    };

    /// <inheritdoc/>
    public override string Title => $"Single {Id}";

    /// <inheritdoc/>
    public override string Summary => $"A {Id} between two nets of a board.";

    /// <inheritdoc/>
    public override string Topology => "a ---[part]--- b";

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <inheritdoc/>
    public override IReadOnlyList<ValueDefinition> Values =>
        [.. base.Values.Where(v => v.Key == (Kind switch { LoosePartKind.Resistor => "resistance", LoosePartKind.Capacitor => "capacitance", _ => "inductance" }))];

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "a", Node = "a", Description = "One end." },
        new() { Name = "b", Node = "b", Description = "The other end." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults { get; } =
    [
        new(static (board, _) => PartEdits.Open(board, PartName))
        {
            Id = "open",
            Title = "Part open",
            Mechanism = "A dry joint, a torn lead or a burnt-out part.",
            Part = PartName,
        },
        new(static (board, ohms) => PartEdits.Short(board, PartName, ohms))
        {
            Id = "shorted",
            Title = "Part shorted",
            Mechanism = "Punch-through, a solder bridge or a wire touching its neighbour.",
            Part = PartName,
            Severity = new SeverityDefinition { Unit = "ohm", Default = PartEdits.ShortOhms, Minimum = 1e-6, Maximum = 1e9, Description = "What is left between its ends." },
        },
    ];

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(Kind switch
        {
            LoosePartKind.Resistor => new Resistor(PartName, "a", "b", Resistance),
            LoosePartKind.Capacitor => new Capacitor(PartName, "a", "b", Capacitance),
            _ => (Device)new Inductor(PartName, "a", "b", Inductance),
        });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints =
            [
                new TestPoint { Name = "across", Node = "a", ReferenceNode = "b", Reference = Reference.AcrossPart, Description = "Across the part." },
            ],
            Currents = [new CurrentPoint { Name = "through", Part = PartName, Description = "Current through the part." }],
        };
    }
}
