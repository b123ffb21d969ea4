using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Netlists.Writing;

/// <summary>Names of a netlist's nodes, parts and models: legal, unique, and the circuit's own wherever these are legal.</summary>
internal sealed class Names
{
    private readonly Dictionary<string, string> nodes = new(StringComparer.OrdinalIgnoreCase) { [Circuit.Ground] = Circuit.Ground };
    private readonly HashSet<string> takenNodes = new(StringComparer.OrdinalIgnoreCase) { Circuit.Ground };
    private readonly HashSet<string> takenParts = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> takenModels = new(StringComparer.OrdinalIgnoreCase);

    public Names(Circuit circuit)
    {
        // Legal names first, so that none of them has to give way to a made-up one.
        var all = circuit.Devices.SelectMany(d => d.Nodes).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        foreach (var node in all.Where(IsLegal).Concat(all.Where(n => !IsLegal(n))))
        {
            if (node != Circuit.Ground)
            {
                nodes[node] = Take(takenNodes, Legal(node));
            }
        }
    }

    /// <summary>Nodes that are written under another name, with that name.</summary>
    public IEnumerable<(string Node, string Written)> RenamedNodes =>
        nodes.Where(n => n.Key != n.Value).Select(n => (n.Key, n.Value));

    /// <summary>How a node of the circuit is written.</summary>
    public string Node(string node) => nodes[node];

    /// <summary>Whether the circuit has the node.</summary>
    public bool HasNode(string node) => nodes.ContainsKey(node);

    /// <summary>A node that the circuit does not have.</summary>
    public string NewNode(string wish) => Take(takenNodes, Legal(wish));

    /// <summary>A part's name with the letter that its kind needs.</summary>
    public string Part(char letter, string name)
    {
        var legal = Legal(name);
        return Take(takenParts, char.ToUpperInvariant(legal[0]) == letter ? legal : letter + legal);
    }

    /// <summary>A model's name.</summary>
    public string Model(string type) => Take(takenModels, $"{type.ToLowerInvariant()}_1");

    private static string Take(HashSet<string> taken, string wish)
    {
        var name = wish;
        for (var k = 2; !taken.Add(name); k++)
        {
            name = wish.EndsWith("_1", StringComparison.Ordinal) ? $"{wish[..^1]}{k}" : $"{wish}_{k}";
        }

        return name;
    }

    private static bool IsLegal(string name) => name == Legal(name);

    private static string Legal(string name)
    {
        var letters = name.Select(c => c is > ' ' and <= '~' and not ('(' or ')' or ',' or '=' or ';') ? c : '_').ToArray();

        // These mean something else at the start of a word or line.
        if (letters[0] is '*' or '+' or '$')
        {
            letters[0] = '_';
        }

        return new string(letters);
    }
}
