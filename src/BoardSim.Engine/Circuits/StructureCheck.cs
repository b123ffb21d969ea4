namespace BoardSim.Engine.Circuits;

/// <summary>
/// Looks, before any number is computed, for structures without a unique solution: nodes without a path to the ground, loops
/// of voltage sources and inductors, islands fed by current sources only, and parts that are fed by the temperature that they make.
/// </summary>
public static class StructureCheck
{
    /// <summary>Throws when the circuit is unsound, with all findings.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="forDirectCurrent">True when an operating point will be solved: capacitors then carry no path and inductors are shorts.</param>
    /// <exception cref="CircuitException">The findings, one message each.</exception>
    public static void ThrowIfUnsound(Circuit circuit, bool forDirectCurrent)
    {
        var findings = Find(circuit, forDirectCurrent);
        if (findings.Count > 0)
        {
            throw new CircuitException(findings);
        }
    }

    /// <summary>All findings, empty for a sound circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="forDirectCurrent">See <see cref="ThrowIfUnsound"/>.</param>
    public static IReadOnlyList<string> Find(Circuit circuit, bool forDirectCurrent)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        if (circuit.Devices.Count == 0)
        {
            return ["The circuit has no parts."];
        }

        var edges = Edges(circuit);
        return [.. FloatingIslands(circuit, edges, forDirectCurrent), .. Loops(edges, forDirectCurrent), .. FedByOwnHeat(circuit)];
    }

    private static List<Edge> Edges(Circuit circuit)
    {
        var edges = new List<Edge>();
        foreach (var device in circuit.Devices)
        {
            foreach (var link in device.Links)
            {
                edges.Add(new Edge(device.Name, device.Nodes[link.From], device.Nodes[link.To], link.Kind));
            }
        }

        return edges;
    }

    private static IEnumerable<string> FloatingIslands(Circuit circuit, List<Edge> edges, bool forDirectCurrent)
    {
        var islands = new DisjointNames();
        islands.Add(Circuit.Ground);
        foreach (var node in circuit.Devices.SelectMany(d => d.Nodes))
        {
            islands.Add(node);
        }

        foreach (var edge in edges)
        {
            if (edge.Kind is LinkKind.Conductive or LinkKind.VoltageDefined or LinkKind.Inductive
                || (edge.Kind == LinkKind.Capacitive && !forDirectCurrent))
            {
                islands.Join(edge.From, edge.To);
            }
        }

        foreach (var island in islands.Groups())
        {
            if (island.Contains(Circuit.Ground, StringComparer.OrdinalIgnoreCase))
            {
                continue;
            }

            var inside = new HashSet<string>(island, StringComparer.OrdinalIgnoreCase);
            var parts = circuit.Devices.Where(d => d.Nodes.Any(inside.Contains)).Select(d => d.Name).ToList();
            if (!edges.Any(e => inside.Contains(e.From) || inside.Contains(e.To)))
            {
                yield return $"Node {island[0]} is sensed by {Listed(parts)}, and nothing drives it; connect it, or correct its name.";
                continue;
            }

            var feeding = edges.Where(e => e.Kind == LinkKind.CurrentDefined && inside.Contains(e.From) != inside.Contains(e.To)).Select(e => e.Part).ToList();
            var names = island.Count == 1 ? $"Node {island[0]}" : $"Nodes {Listed(island)}";
            var verb = island.Count == 1 ? "has" : "have";
            var path = forDirectCurrent ? "no conducting path to the ground (node 0)" : "no path at all to the ground (node 0)";
            yield return feeding.Count > 0
                ? $"{names} (parts {Listed(parts)}) {verb} {path}, and the current of {Listed(feeding)} has nowhere to go; add a resistor from {island[0]} to 0."
                : $"{names} (parts {Listed(parts)}) {verb} {path}; add one, for example a 1 Gohm resistor from {island[0]} to 0.";
        }
    }

    private static IEnumerable<string> Loops(List<Edge> edges, bool forDirectCurrent)
    {
        var tree = new Dictionary<string, List<(string Node, Edge Edge)>>(StringComparer.OrdinalIgnoreCase);
        var groups = new DisjointNames();

        // Sources first, so that a loop with an inductor in it is reported at the inductor.
        foreach (var edge in edges.Where(e => e.Kind is LinkKind.VoltageDefined || (e.Kind is LinkKind.Inductive && forDirectCurrent)).OrderBy(e => e.Kind))
        {
            groups.Add(edge.From);
            groups.Add(edge.To);
            if (groups.Join(edge.From, edge.To))
            {
                Branches(edge.From).Add((edge.To, edge));
                Branches(edge.To).Add((edge.From, edge));
                continue;
            }

            var loop = Walk(edge.From, edge.To).Append(edge).ToList();
            var inductive = loop.Any(e => e.Kind == LinkKind.Inductive);
            var parts = Listed(loop.Select(e => e.Part).Distinct().ToList());
            var nodes = Listed(loop.SelectMany(e => new[] { e.From, e.To }).Distinct(StringComparer.OrdinalIgnoreCase).ToList());
            yield return loop.Count == 1
                ? $"{edge.Part} is connected to node {edge.From} at both ends; connect it across two nodes."
                : inductive
                    ? $"{parts} form a loop of voltage sources and inductors at nodes {nodes}, whose direct current has no limit; add a series resistance (1 mohm, say) to {edge.Part}."
                    : $"{parts} form a loop of voltage sources at nodes {nodes}, which contradict each other; take one out, or add a series resistance (1 mohm, say) to {edge.Part}.";
        }

        List<(string Node, Edge Edge)> Branches(string node)
        {
            if (!tree.TryGetValue(node, out var list))
            {
                tree[node] = list = [];
            }

            return list;
        }

        IEnumerable<Edge> Walk(string from, string to)
        {
            var cameBy = new Dictionary<string, (string Node, Edge Edge)?>(StringComparer.OrdinalIgnoreCase) { [from] = null };
            var queue = new Queue<string>([from]);
            while (queue.Count > 0 && !cameBy.ContainsKey(to))
            {
                var node = queue.Dequeue();
                foreach (var (next, edge) in Branches(node))
                {
                    if (cameBy.TryAdd(next, (node, edge)))
                    {
                        queue.Enqueue(next);
                    }
                }
            }

            for (var at = to; cameBy.GetValueOrDefault(at) is { } step; at = step.Node)
            {
                yield return step.Edge;
            }
        }
    }

    /// <summary>
    /// Parts one of whose own terminals lies in the thermal network that they heat. A degree then is a volt and a watt an ampere: the heat grows with the square of the temperature that it makes, what
    /// carries it off in proportion only, and mostly there is no solution at all.
    /// </summary>
    private static IEnumerable<string> FedByOwnHeat(Circuit circuit)
    {
        foreach (var device in circuit.Devices.Where(d => d.HeatTerminals.Count > 0))
        {
            // What it heats itself: the heat of another part may well be tied to this one's terminals, and then it is the other that is named.
            var heat = HeatNet.Of(circuit, [device]);
            var warm = device.HeatTerminals.Select(t => device.Nodes[t]).ToList();
            var own = device.Links.SelectMany(l => new[] { l.From, l.To }).Distinct().Except(device.HeatTerminals)
                .Select(t => device.Nodes[t]).Where(heat.Contains).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
            if (own.Count > 0)
            {
                yield return $"{device.Name} heats node {Listed(warm)}, which is joined to its own terminal at node {Listed(own)}: a temperature is no voltage; take out what joins them (a thermal network shares node 0 with the circuit, nothing else).";
            }
        }
    }

    private static string Listed(IReadOnlyList<string> names) =>
        names.Count <= 6 ? string.Join(", ", names) : $"{string.Join(", ", names.Take(6))} and {names.Count - 6} more";

    private sealed record Edge(string Part, string From, string To, LinkKind Kind);

    /// <summary>Disjoint sets of names (union-find).</summary>
    private sealed class DisjointNames
    {
        private readonly Dictionary<string, string> parent = new(StringComparer.OrdinalIgnoreCase);

        public void Add(string name) => parent.TryAdd(name, name);

        /// <summary>Joins two sets; false when they were one already.</summary>
        public bool Join(string a, string b)
        {
            var (x, y) = (Root(a), Root(b));
            if (string.Equals(x, y, StringComparison.OrdinalIgnoreCase))
            {
                return false;
            }

            parent[x] = y;
            return true;
        }

        public IEnumerable<IReadOnlyList<string>> Groups() =>
            parent.Keys.ToList().GroupBy(Root, StringComparer.OrdinalIgnoreCase).Select(g => g.ToList());

        private string Root(string name)
        {
            while (parent[name] != name)
            {
                parent[name] = parent[parent[name]];
                name = parent[name];
            }

            return name;
        }
    }
}
