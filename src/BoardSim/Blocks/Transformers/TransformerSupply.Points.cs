using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Transformers;

public sealed partial class TransformerSupply
{
    private IReadOnlyList<string> DiodeNames => Rectifier switch
    {
        TransformerRectifier.Bridge => ["D1", "D2", "D3", "D4"],
        TransformerRectifier.CentreTap => ["D1", "D2"],
        _ => ["D1"],
    };

    private List<TestPoint> Points() =>
    [
        new()
        {
            Name = "line",
            Node = "inlet",
            ReferenceNode = "neutral",
            Reference = Reference.Neutral,
            Description = "Line at the primary.",
            LineSide = true,
        },
        new()
        {
            Name = "unregulated",
            Node = "unregulated",
            ReferenceNode = Circuit.Ground,
            Reference = Reference.BoardGround,
            Description = "Plus of the reservoir capacitor: the secondary's peak less the diodes and what the windings lose, with a saw-tooth of twice the line frequency on it.",
        },
        Rectifier == TransformerRectifier.Bridge
            ? new()
            {
                Name = "secondary",
                Node = "s1",
                ReferenceNode = "s2",
                Reference = Reference.AcrossPart,
                Description = "Across the secondary: a sine whose crests the charging current has flattened.",
            }
            : new()
            {
                Name = "secondary",
                Node = "s1",
                ReferenceNode = Circuit.Ground,
                Reference = Reference.BoardGround,
                Description = "Secondary, or its first half, against ground: a sine whose crests the charging current has flattened.",
            },
        new()
        {
            Name = "d1-reverse",
            Node = "unregulated",
            ReferenceNode = "s1",
            Reference = Reference.AcrossPart,
            Description = "Across diode D1 against its direction: its largest value is the peak inverse voltage, about the secondary's peak in a bridge and twice as much with a centre tap.",
        },
    ];

    private List<CurrentPoint> Clamps() =>
    [
        new() { Name = "primary", Part = "R_primary", Description = "Current of the primary: magnetising current and the charging pulses.", LineSide = true },
        new() { Name = "secondary", Part = "R_secondary", Description = "Current of the secondary, or of its first half: short pulses at the crests." },
        .. DiodeNames.Select(d => new CurrentPoint { Name = d.ToLowerInvariant(), Part = d, Description = $"Current through diode {d}." }),
        new() { Name = "reservoir", Part = "C_reservoir", Capacitor = CapacitorRating, Description = "Current into the reservoir capacitor: charging pulses, and the load's current out of it in between." },
        new() { Name = "load", Part = "R_load", Description = "Current of the load." },
    ];
}
