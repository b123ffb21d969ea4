namespace BoardSim.Engine.Netlists.Reading;

/// <summary>One expansion of a definition: how its names turn into names of the circuit.</summary>
/// <param name="Definition">What is expanded.</param>
/// <param name="Suffix">What inner names get appended: empty for the whole netlist, <c>.X2.X1</c> for the call X2 within the call X1.</param>
/// <param name="Connections">Outer node of each terminal, by its inner name.</param>
/// <param name="Outer">The expansion that holds the call; null for the whole netlist.</param>
internal sealed record Call(Definition Definition, string Suffix, IReadOnlyDictionary<string, string> Connections, Call? Outer)
{
    public int Depth { get; } = Outer is null ? 0 : Outer.Depth + 1;

    /// <summary>The whole netlist.</summary>
    public static Call Whole(Definition top) => new(top, "", new Dictionary<string, string>(), null);

    /// <summary>A definition by itself, for checking one that nobody calls.</summary>
    public static Call Alone(Definition definition) =>
        new(definition, "", new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase), null);

    /// <summary>The circuit's name of a node.</summary>
    public string Node(string inner) =>
        inner == "0" ? inner : Connections.TryGetValue(inner, out var outer) ? outer : inner + Suffix;

    /// <summary>The circuit's name of a part.</summary>
    public string Part(string inner) => inner + Suffix;

    /// <summary>Whether the definition is being expanded already, here or further out.</summary>
    public bool IsWithin(Definition definition)
    {
        for (var c = this; c is not null; c = c.Outer)
        {
            if (ReferenceEquals(c.Definition, definition))
            {
                return true;
            }
        }

        return false;
    }
}
