using BoardSim.Blocks;
using BoardSim.Blocks.Lines;
using BoardSim.Boards;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Designs;

/// <summary>
/// Blocks wired into a board. It is a block itself, whose values, faults, test points, currents and states are those of its blocks with
/// the name of the place before them (<c>bridge.bulk.esr</c>), so that whatever runs on a block runs on a board as well. What belongs to the
/// blocks' benches stays behind.
/// </summary>
public sealed class BoardDesign : Block
{
    private readonly IReadOnlyList<ValueDefinition> own;

    /// <summary>Creates a design.</summary>
    /// <param name="id">Name, lower case words joined by hyphens.</param>
    /// <param name="title">Title, one line.</param>
    /// <param name="zeroNet">The net that is the circuit's ground node: all node voltages are computed against it.</param>
    /// <param name="placements">The blocks in their places, names unique.</param>
    /// <exception cref="ArgumentException">Two placements have one name.</exception>
    public BoardDesign(string id, string title, string zeroNet, IReadOnlyList<Placement> placements)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(id);
        ArgumentException.ThrowIfNullOrWhiteSpace(title);
        ArgumentException.ThrowIfNullOrWhiteSpace(zeroNet);
        ArgumentNullException.ThrowIfNull(placements);
        if (placements.GroupBy(p => p.Name, StringComparer.OrdinalIgnoreCase).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"Two blocks are named {twice.Key}; give each a name of its own.", nameof(placements));
        }

        (Id, Title, ZeroNet, Placements) = (id, title, zeroNet, placements);
        own = ValueDefinition.Reflect(this);
    }

    /// <inheritdoc/>
    public override string Id { get; }

    /// <inheritdoc/>
    public override string Title { get; }

    /// <summary>What the board is, a few sentences.</summary>
    public string About { get; init; } = "";

    /// <summary>The net that is the circuit's ground node.</summary>
    public string ZeroNet { get; }

    /// <summary>The blocks in their places.</summary>
    public IReadOnlyList<Placement> Placements { get; }

    /// <summary>Points on nets, beside those of the blocks; nodes are names of nets.</summary>
    public IReadOnlyList<TestPoint> NetPoints { get; init; } = [];

    /// <summary>Temperature of the air around the board, in kelvin; blocks that ask for it get this one.</summary>
    [Quantity(AmbientKey, "degC", 233.15, 378.15, "Temperature of the air around the board.")]
    public double Ambient { get; set; } = 298.15;

    /// <inheritdoc/>
    public override string Summary => About;

    /// <inheritdoc/>
    public override string Topology => Netting.Sketch(Placements);

    /// <inheritdoc/>
    public override bool LineSide => Placements.Any(p => p.Block.LineSide);

    /// <inheritdoc/>
    public override IReadOnlyList<ValueDefinition> Values =>
    [
        .. own,
        .. Placements.SelectMany(p => p.Block.Values
            .Where(v => !v.OnBenchOnly && v.Key != AmbientKey)
            .Select(v => v.OnPlacement(p.Name, p.Block, block => ((BoardDesign)block).Place(p.Name).Block))),
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults
    {
        get
        {
            SetSurroundings();
            return [.. Placements.SelectMany(FaultsOf)];
        }
    }

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts =>
    [
        .. Placements.SelectMany(p => p.Block.SupplyParts
            .Where(part => !p.Block.BenchParts.Contains(part, StringComparer.OrdinalIgnoreCase))
            .Select(part => $"{p.Name}.{part}")),
    ];

    private const string AmbientKey = "ambient";

    /// <summary>The placement of that name.</summary>
    /// <param name="name">Name on this board, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">There is none.</exception>
    public Placement Place(string name) =>
        Placements.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Id} has no block '{name}'; it has {string.Join(", ", Placements.Select(p => p.Name))}.");

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        SetSurroundings();
        var details = Placements.Where(p => p.Block is MainsOutlet).Select(p => p.Block.LineDetail).Distinct().Count();
        return (details > 1 ? ["Two outlets have the line in two details; give both the same."] : Enumerable.Empty<string>())
            .Concat(Placements.SelectMany(p => p.Block.Problems().Select(problem => $"{p.Name}: {problem}")))
            .Concat(Netting.Problems(this));
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        SetSurroundings();
        return Composition.Of(this, Placements.ToDictionary(p => p.Name, p => p.Block.Build(), StringComparer.OrdinalIgnoreCase));
    }

    /// <summary>Blocks take the board's air and the detail of its line, and the design of each is that of the board's design.</summary>
    private void SetSurroundings()
    {
        var outlets = Placements.Select(p => p.Block).OfType<MainsOutlet>().ToList();
        var detail = outlets.Any(o => o.LineDetail == LineDetail.Rms) ? LineDetail.Rms : LineDetail.Waveform;
        foreach (var (name, block, _) in Placements)
        {
            block.Values.FirstOrDefault(v => v.Key == AmbientKey)?.Set(block, Ambient);
            if (block is not MainsOutlet)
            {
                block.LineDetail = detail;
            }

            block.Design = (Design as BoardDesign)?.Place(name).Block;
        }
    }

    private IEnumerable<FaultDefinition> FaultsOf(Placement placement) => placement.Block.Faults
        .Where(f => !placement.Block.BenchParts.Contains(f.Part, StringComparer.OrdinalIgnoreCase))
        .Select(f => new FaultDefinition((board, severity) => Composition.With(this, board, placement.Name, local => f.Apply(local, double.IsNaN(severity) ? null : severity)))
        {
            Id = $"{placement.Name}.{f.Id}",
            Title = $"{f.Title} ({placement.Name})",
            Mechanism = f.Mechanism,
            Part = $"{placement.Name}.{f.Part}",
            Severity = f.Severity,
        });
}
