using System.Collections.Concurrent;
using BoardSim.Boards;
using BoardSim.Faults;

namespace BoardSim.Blocks;

/// <summary>
/// A typical piece of an appliance's control board: values in, parts and test points out. <see cref="Build"/> puts it on a
/// bench of its own, with a source and a load. Values are typed properties here and keys in scenario files.
/// </summary>
public abstract class Block
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<ValueDefinition>> Definitions = new();

    /// <summary>Name in scenario files: lower case words joined by hyphens.</summary>
    public abstract string Id { get; }

    /// <summary>Name for people, one line.</summary>
    public abstract string Title { get; }

    /// <summary>What the block does on a board and what can be learnt from it, a few sentences.</summary>
    public abstract string Summary { get; }

    /// <summary>The topology as a text sketch, lines separated by line feeds.</summary>
    public abstract string Topology { get; }

    /// <summary>True when points of the block are connected to the line.</summary>
    public abstract bool LineSide { get; }

    /// <summary>The ways in which the block fails, all of them applicable to the board that <see cref="Build"/> gives with these values.</summary>
    public abstract IReadOnlyList<FaultDefinition> Faults { get; }

    /// <summary>The conductors that a board wires to others; a block without any stands on its bench only.</summary>
    public virtual IReadOnlyList<Port> Ports => [];

    /// <summary>Names of the parts that only the bench has (sources, loads, what stands in for the rest of a board); they stay behind when
    /// the block is put on a board. A name may be listed that the present values leave out.</summary>
    public virtual IReadOnlyList<string> BenchParts => [];

    /// <summary>Parts that hang open when the block is unplugged: its sources of power and what leads to them. Names may be listed that the present values
    /// leave out, and those of the bench do not count on a board; a block without any cannot be unplugged.</summary>
    public virtual IReadOnlyList<string> SupplyParts => [];

    /// <summary>
    /// The block as it was designed, when this one is a board whose parts deviate from it by their tolerances; null when it is the design itself.
    /// What a program or a person takes for granted, a lookup table say, follows the design and not the parts.
    /// </summary>
    public Block? Design { get; set; }

    /// <summary>What of the mains is computed; on a board its outlet decides for all blocks.</summary>
    public LineDetail LineDetail { get; set; }

    /// <summary>Why the block cannot be computed with the line by its RMS value, one sentence; null when it can.</summary>
    protected virtual string? WrongWithRmsLine => null;

    /// <summary>The values that can be set, in the order of declaration.</summary>
    public virtual IReadOnlyList<ValueDefinition> Values =>
        Definitions.GetOrAdd(GetType(), type => ValueDefinition.Reflect((Block)Activator.CreateInstance(type)!));

    /// <summary>The value of that key.</summary>
    /// <param name="key">Key, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">The block has no such value.</exception>
    public ValueDefinition Value(string key) =>
        Values.FirstOrDefault(v => string.Equals(v.Key, key, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Id} has no value '{key}'; it has {string.Join(", ", Values.Select(v => v.Key))}.");

    /// <summary>The fault of that name.</summary>
    /// <param name="id">Name, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">The block has no such fault.</exception>
    public FaultDefinition Fault(string id) =>
        Faults.FirstOrDefault(f => string.Equals(f.Id, id, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Id} has no fault '{id}'; it has {string.Join(", ", Faults.Select(f => f.Id))}.");

    /// <summary>What is wrong with the values, one sentence each: ranges first, then what does not fit together.</summary>
    public IReadOnlyList<string> Problems()
    {
        var problems = Values
            .Select(v => v.Get(this) is { } set ? v.Problem(set) : null)
            .OfType<string>()
            .ToList();
        if (problems.Count > 0)
        {
            return problems;
        }

        return [.. Conflicts(), .. LineDetail == LineDetail.Rms && WrongWithRmsLine is { } wrong ? [wrong] : Array.Empty<string>()];
    }

    /// <summary>The block on its bench, with its own source and load.</summary>
    /// <exception cref="BlockException">Values are out of range or do not fit together.</exception>
    public Board Build()
    {
        var problems = Problems();
        return problems.Count > 0 ? throw new BlockException(problems) : Wire();
    }

    /// <summary>Puts the parts together; the values have been checked.</summary>
    protected abstract Board Wire();

    /// <summary>Values that are legal one by one but do not fit together, one sentence each.</summary>
    protected virtual IEnumerable<string> Conflicts() => [];
}
