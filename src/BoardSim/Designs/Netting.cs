using System.Text;

namespace BoardSim.Designs;

/// <summary>What can be said of a board's nets before anything is computed.</summary>
internal static class Netting
{
    /// <summary>What is wrong with the wiring, one sentence each.</summary>
    public static IEnumerable<string> Problems(BoardDesign design)
    {
        foreach (var (name, block, wires) in design.Placements)
        {
            if (block.Ports.Count == 0)
            {
                yield return $"{name}: {block.Id} has no ports; it stands on its bench only.";
            }

            foreach (var unknown in wires.Keys.Where(w => block.Ports.All(p => p.Name != w)))
            {
                yield return $"{name}: {block.Id} has no port {unknown}; it has {string.Join(", ", block.Ports.Select(p => p.Name))}.";
            }

            foreach (var open in block.Ports.Where(p => !p.IsOptional && !wires.ContainsKey(p.Name)))
            {
                yield return $"{name}: port {open.Name} is wired to nothing; name the net that it goes to ({open.Description.TrimEnd('.')}).";
            }
        }

        var ends = design.Placements.SelectMany(p => p.Wires.Select(w => (Net: w.Value, End: $"{p.Name}.{w.Key}"))).ToList();
        foreach (var lonely in ends.GroupBy(e => e.Net, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() == 1))
        {
            yield return $"net {lonely.Key} has one end only, {lonely.First().End}; wire something else to it, or leave an optional port out.";
        }

        if (ends.Count > 0 && ends.All(e => !string.Equals(e.Net, design.ZeroNet, StringComparison.OrdinalIgnoreCase)))
        {
            yield return $"nothing is wired to {design.ZeroNet}, the net that voltages are computed against.";
        }

        foreach (var point in design.NetPoints)
        {
            foreach (var net in new[] { point.Node, point.ReferenceNode }.Where(n => ends.All(e => !string.Equals(e.Net, n, StringComparison.OrdinalIgnoreCase))))
            {
                yield return $"test point {point.Name}: there is no net {net}.";
            }
        }
    }

    /// <summary>The nets with what hangs on each, a line per net.</summary>
    public static string Sketch(IReadOnlyList<Placement> placements)
    {
        var text = new StringBuilder();
        foreach (var net in placements.SelectMany(p => p.Wires.Select(w => (Net: w.Value, End: $"{p.Name}.{w.Key}"))).GroupBy(e => e.Net, StringComparer.OrdinalIgnoreCase))
        {
            text.Append(net.Key).Append(": ").AppendJoin(", ", net.Select(e => e.End)).Append('\n');
        }

        return text.ToString().TrimEnd('\n');
    }
}
