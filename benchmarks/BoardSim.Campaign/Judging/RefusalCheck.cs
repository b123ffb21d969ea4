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
        var (loops, heats) = (0, 0);
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
            else if (OwnHeat().Match(finding) is { Success: true } heated)
            {
                if (!graph.FedByOwnHeat.Contains(heated.Groups["part"].Value))
                {
                    return $"the part and its heat are apart: {finding}";
                }

                heats++;
            }
            else
            {
                return $"no finding of structure: {finding}";
            }
        }

        return islands.Count > 0 ? $"nodes {string.Join(", ", islands[0])} float, but no finding says so"
            : loops != graph.Loops ? $"there are {graph.Loops} loops of sources, but {loops} findings"
            : heats != graph.FedByOwnHeat.Count ? $"{graph.FedByOwnHeat.Count} parts are joined to their own heat, but {heats} findings say so"
            : null;
    }

    /// <summary>True when the parts close: each with one link or more, every node of which is touched twice, all in one piece. A transformer has a link for
    /// each winding, and only the one that is shorted is in the loop. With more parts than are named, when all that are named fix a voltage.</summary>
    private static bool IsLoop((List<string> Names, int More) parts, GraphCheck graph)
    {
        var edges = graph.Rigid.Where(r => parts.Names.Contains(r.Part, StringComparer.OrdinalIgnoreCase)).ToList();
        if (!parts.Names.TrueForAll(name => edges.Exists(e => string.Equals(e.Part, name, StringComparison.OrdinalIgnoreCase))))
        {
            return false;
        }

        // Six names with a few windings each at most.
        return parts.More > 0 || Enumerable.Range(1, (1 << edges.Count) - 1).Any(chosen =>
            IsRing([.. edges.Where((_, k) => (chosen >> k & 1) != 0)], parts.Names.Count));
    }

    private static bool IsRing(List<(string Part, string From, string To)> edges, int parts)
    {
        var names = StringComparer.OrdinalIgnoreCase;
        if (edges.Select(e => e.Part).Distinct(names).Count() != parts
            || edges.SelectMany(e => new[] { e.From, e.To }).GroupBy(n => n, names).Any(g => g.Count() != 2))
        {
            return false;
        }

        // Once round from the first node: every edge must come along.
        var at = edges[0].From;
        var left = edges.ToList();
        while (left.FindIndex(e => names.Equals(e.From, at) || names.Equals(e.To, at)) is >= 0 and var next)
        {
            at = names.Equals(left[next].From, at) ? left[next].To : left[next].From;
            left.RemoveAt(next);
        }

        return left.Count == 0;
    }

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

    [GeneratedRegex(@"^(?<part>\S+) heats node .+?, which is joined to its own terminal")]
    private static partial Regex OwnHeat();

    [GeneratedRegex(@" and (?<count>\d+) more$")]
    private static partial Regex More();
}
