using System.Globalization;
using System.Text.RegularExpressions;

namespace BoardSim.Campaign.Judging;

/// <summary>Compares the sentences of a refusal with what is wrong with the circuit, name by name.</summary>
public static partial class RefusalCheck
{
    /// <summary>What is wrong with a refusal, in one sentence; null when it is right.</summary>
    /// <param name="findings">The engine's sentences.</param>
    /// <param name="graph">What is wrong with the circuit.</param>
    public static string? Problem(IReadOnlyList<string> findings, GraphCheck graph)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(graph);
        var islands = graph.Islands.ToList();
        var loops = 0;
        if (findings.Any(f => Missing().Match(f) is { Success: true } reference && graph.Parts.Contains(reference.Groups["part"].Value) && !graph.Parts.Contains(reference.Groups["other"].Value)))
        {
            // Whoever refers to a part that was taken out cannot be bound, and nothing else has been looked at.
            return null;
        }

        foreach (var finding in findings)
        {
            if (Island().Match(finding) is { Success: true } floating)
            {
                var (names, more) = Names(floating.Groups["nodes"].Value);
                var at = islands.FindIndex(i => i.Count == names.Count + more && names.All(i.Contains));
                if (at < 0)
                {
                    return $"no such group of nodes floats: {finding}";
                }

                islands.RemoveAt(at);
            }
            else if (Loop().Match(finding) is { Success: true } loop)
            {
                loops++;
                if (!IsLoop(Names(loop.Groups["parts"].Value), graph))
                {
                    return $"these parts form no loop: {finding}";
                }
            }
            else
            {
                return $"no finding of structure: {finding}";
            }
        }

        return islands.Count > 0 ? $"nodes {string.Join(", ", islands[0])} float, but no finding says so"
            : loops != graph.Loops ? $"there are {graph.Loops} loops of sources, but {loops} findings"
            : null;
    }

    /// <summary>True when branches of the parts, at least one of each, touch every node that they touch twice, so that they close; with more parts than are named, when
    /// all that are named fix a voltage. A transformer has a branch for each winding, and one of them may be all that is in the loop.</summary>
    private static bool IsLoop((List<string> Names, int More) parts, GraphCheck graph)
    {
        var edges = graph.Rigid.Where(r => parts.Names.Contains(r.Part, StringComparer.OrdinalIgnoreCase)).ToList();
        return HasAll(edges)
            && (parts.More > 0 || Enumerable.Range(1, (1 << edges.Count) - 1).Select(Chosen).Any(chosen => HasAll(chosen) && Closes(chosen)));

        bool HasAll(IEnumerable<(string Part, string From, string To)> some) =>
            parts.Names.TrueForAll(n => some.Any(e => string.Equals(e.Part, n, StringComparison.OrdinalIgnoreCase)));

        List<(string Part, string From, string To)> Chosen(int set) => [.. edges.Where((_, k) => (set >> k & 1) != 0)];
    }

    private static bool Closes(IEnumerable<(string Part, string From, string To)> edges) =>
        edges.SelectMany(e => new[] { e.From, e.To }).GroupBy(n => n, StringComparer.OrdinalIgnoreCase).All(g => g.Count() == 2);

    private static (List<string> Names, int More) Names(string listed)
    {
        var more = 0;
        if (More().Match(listed) is { Success: true } rest)
        {
            more = int.Parse(rest.Groups["count"].Value, CultureInfo.InvariantCulture);
            listed = listed[..rest.Index];
        }

        return ([.. listed.Split(", ")], more);
    }

    [GeneratedRegex(@"^Nodes? (?<nodes>.+?) (\(parts .+?\) ha(s|ve) no (conducting path|path at all) to the ground|is sensed by .+?, and nothing drives it)")]
    private static partial Regex Island();

    [GeneratedRegex(@"^(?<part>\S+) refers to (?<other>\S+), which is not in the circuit")]
    private static partial Regex Missing();

    [GeneratedRegex(@"^(?<parts>.+?) (form a loop of voltage sources|is connected to node)")]
    private static partial Regex Loop();

    [GeneratedRegex(@" and (?<count>\d+) more$")]
    private static partial Regex More();
}
