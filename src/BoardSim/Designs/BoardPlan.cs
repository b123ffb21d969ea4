using BoardSim.Blocks;
using BoardSim.Measurement;

namespace BoardSim.Designs;

/// <summary>What a board file says: which blocks, with which values, wired to which nets. Designs are made from it, each with blocks of its own,
/// so that runs beside each other do not share any.</summary>
public sealed record BoardPlan
{
    /// <summary>Name of the board: the file's name without folder and extension.</summary>
    public required string Id { get; init; }

    /// <summary>Title, one line.</summary>
    public required string Title { get; init; }

    /// <summary>What the board is, a few sentences; may be empty.</summary>
    public string About { get; init; } = "";

    /// <summary>The net that voltages are computed against.</summary>
    public required string ZeroNet { get; init; }

    /// <summary>Temperature of the air around the board in kelvin.</summary>
    public double Ambient { get; init; } = 298.15;

    /// <summary>The blocks, in the order of the file.</summary>
    public required IReadOnlyList<PlacedBlock> Blocks { get; init; }

    /// <summary>Single parts between nets, in the order of the file.</summary>
    public IReadOnlyList<PlacedPart> Parts { get; init; } = [];

    /// <summary>Points on nets.</summary>
    public IReadOnlyList<TestPoint> NetPoints { get; init; } = [];

    /// <summary>A fresh design.</summary>
    /// <exception cref="BlockException">A value is out of range.</exception>
    /// <exception cref="KeyNotFoundException">There is no such block or value.</exception>
    public BoardDesign Make()
    {
        var blocks = Blocks.Select(b =>
        {
            var block = BlockCatalogue.Create(b.Block);
            foreach (var (key, value) in b.Values)
            {
                block.Value(key).Set(block, value);
            }

            return new Placement(b.Name, block, b.Wires);
        });
        var parts = Parts.Select(p => new Placement(p.Name, new LoosePart(p.Kind, p.Value), new Dictionary<string, string> { ["a"] = p.From, ["b"] = p.To }));
        return new BoardDesign(Id, Title, ZeroNet, [.. blocks, .. parts]) { About = About, Ambient = Ambient, NetPoints = NetPoints };
    }
}

/// <summary>A block on a board, as the file has it.</summary>
/// <param name="Name">Its name on the board.</param>
/// <param name="Block">Id of the block.</param>
/// <param name="Values">Values that differ from the block's own, by key: a <see cref="double"/> in the value's unit, or the word of a choice.</param>
/// <param name="Wires">The net of each wired port.</param>
public sealed record PlacedBlock(string Name, string Block, IReadOnlyDictionary<string, object> Values, IReadOnlyDictionary<string, string> Wires);

/// <summary>A single part between two nets, as the file has it.</summary>
/// <param name="Name">Its name on the board.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Value">Ohms, farads or henries.</param>
/// <param name="From">Net of one end.</param>
/// <param name="To">Net of the other end.</param>
public sealed record PlacedPart(string Name, LoosePartKind Kind, double Value, string From, string To);
