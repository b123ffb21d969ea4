namespace BoardSim.Engine.Circuits;

/// <summary>The thermal equivalent circuits within a circuit: nodes whose equation is a balance of watts.</summary>
internal static class HeatNet
{
    /// <summary>Nodes that a device gives heat to, and what conducts it on from there; the ground is everybody's and not among them.</summary>
    /// <param name="circuit">The circuit.</param>
    public static IReadOnlySet<string> Of(Circuit circuit) => Of(circuit, circuit.Devices);

    /// <summary>The same for what some devices heat alone.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="heaters">These devices.</param>
    public static IReadOnlySet<string> Of(Circuit circuit, IEnumerable<Device> heaters)
    {
        var heat = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var found = new Queue<string>(heaters.SelectMany(d => d.HeatTerminals.Select(t => d.Nodes[t])));
        var conductors = found.Count == 0 ? [] : circuit.Devices.Where(d => d.HeatTerminals.Count == 0)
            .SelectMany(d => d.Links.Select(l => (First: d.Nodes[l.From], Second: d.Nodes[l.To]))).ToList();
        while (found.TryDequeue(out var node))
        {
            if (string.Equals(node, Circuit.Ground, StringComparison.OrdinalIgnoreCase) || !heat.Add(node))
            {
                continue;
            }

            foreach (var (first, second) in conductors)
            {
                if (string.Equals(first, node, StringComparison.OrdinalIgnoreCase))
                {
                    found.Enqueue(second);
                }
                else if (string.Equals(second, node, StringComparison.OrdinalIgnoreCase))
                {
                    found.Enqueue(first);
                }
            }
        }

        return heat;
    }
}
