namespace BoardSim.Engine.Netlists.Reading;

/// <summary>A subcircuit's text, or the whole netlist's: parts, models and inner definitions by name.</summary>
internal sealed class Definition(Token name, IReadOnlyList<Token> terminals, Definition? parent)
{
    public Token Name { get; } = name;

    /// <summary>Names of the terminals inside; none for the whole netlist.</summary>
    public IReadOnlyList<Token> Terminals { get; } = terminals;

    public Definition? Parent { get; } = parent;

    public int Depth { get; } = parent is null ? 0 : parent.Depth + 1;

    public List<Card> Parts { get; } = [];

    public Dictionary<string, ModelCard> Models { get; } = new(StringComparer.OrdinalIgnoreCase);

    public Dictionary<string, Definition> Subcircuits { get; } = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Set when a call has been expanded, so that definitions nobody calls can be checked too.</summary>
    public bool IsCalled { get; set; }

    /// <summary>The model of that name here or further out, or null.</summary>
    public ModelCard? FindModel(string name)
    {
        for (var d = this; d is not null; d = d.Parent)
        {
            if (d.Models.TryGetValue(name, out var model))
            {
                return model;
            }
        }

        return null;
    }

    /// <summary>The subcircuit of that name here or further out, or null.</summary>
    public Definition? FindSubcircuit(string name)
    {
        for (var d = this; d is not null; d = d.Parent)
        {
            if (d.Subcircuits.TryGetValue(name, out var found))
            {
                return found;
            }
        }

        return null;
    }

    public IEnumerable<string> ModelNames => Outward().SelectMany(d => d.Models.Keys);

    public IEnumerable<string> SubcircuitNames => Outward().SelectMany(d => d.Subcircuits.Keys);

    /// <summary>This definition and all inside it.</summary>
    public IEnumerable<Definition> Inward() => Subcircuits.Values.SelectMany(d => d.Inward()).Prepend(this);

    private IEnumerable<Definition> Outward()
    {
        for (var d = this; d is not null; d = d.Parent)
        {
            yield return d;
        }
    }
}
