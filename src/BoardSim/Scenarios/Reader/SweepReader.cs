using BoardSim.Blocks;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the sweep.</summary>
internal static class SweepReader
{
    public static SweepSpec? Read(Section root, BlockInHand? block, IReadOnlyList<ConditionSpec> conditions, Outputs outputs)
    {
        if (root.Node("sweep") is not { } node || Section.Open(node, ScenarioFormat.Sweep, root.Findings) is not { } section)
        {
            return null;
        }

        var findings = root.Findings;
        if (section.Has("vary") == section.Has("severity-of"))
        {
            findings.Add(section.Place, "", "a sweep has either \"vary\" with a value of the block, or \"severity-of\" with a fault");
        }

        var record = section.Texts("record").Where(r => outputs.Check(r, findings)).Select(r => r.Text).ToList();
        var named = Conditions(section, conditions);
        if (block is null || Swept(section, block, named) is not { } swept)
        {
            return null;
        }

        var label = section.Text("label") ?? swept.Value ?? swept.Fault!;
        var (points, logarithmic) = Points(section, swept);
        return new SweepSpec
        {
            Value = swept.Value,
            Fault = swept.Fault,
            Label = label,
            Unit = swept.Unit.Symbol,
            Points = points,
            Logarithmic = logarithmic,
            Conditions = [.. named.Select(c => c.Name)],
            Record = record,
        };
    }

    /// <summary>The conditions that a section names, in the order of the scenario; all when it names none.</summary>
    public static IReadOnlyList<ConditionSpec> Conditions(Section section, IReadOnlyList<ConditionSpec> all)
    {
        if (!section.Has("conditions"))
        {
            return all;
        }

        var named = section.Texts("conditions");
        foreach (var unknown in named.Where(n => all.All(c => c.Name != n.Text)))
        {
            section.Findings.AddUnknown(unknown, "condition of this scenario", all.Select(c => c.Name));
        }

        return [.. all.Where(c => named.Any(n => n.Text == c.Name))];
    }

    private static Target? Swept(Section section, BlockInHand block, IReadOnlyList<ConditionSpec> conditions)
    {
        if (section.TextNode("vary") is { } key)
        {
            var quantities = block.Block.Values.Where(v => v.Kind == ValueKind.Quantity).ToList();
            if (quantities.FirstOrDefault(v => v.Key == key.Text) is not { } definition)
            {
                section.Findings.AddUnknown(key, $"value with a unit of block {block.Id}", quantities.Select(v => v.Key));
                return null;
            }

            foreach (var condition in conditions.Where(c => c.Values.Any(v => v.Key == key.Text)))
            {
                section.Findings.Add(key, $"condition {condition.Name} sets {key.Text} itself, and the sweep would set it to something else; leave it out of the sweep's \"conditions\"");
            }

            return new Target(definition.Key, null, Unit.Find(definition.Unit)!, value => definition.Problem(value));
        }

        if (section.TextNode("severity-of") is { } id)
        {
            var faults = block.Block.Faults.Where(f => f.Severity is not null).ToList();
            if (faults.FirstOrDefault(f => f.Id == id.Text) is not { } fault)
            {
                section.Findings.AddUnknown(id, $"fault with a severity of block {block.Id}", faults.Select(f => f.Id));
                return null;
            }

            if (!conditions.Any(c => c.Faults.Any(f => f.Fault == id.Text)))
            {
                section.Findings.Add(id, $"no condition has the fault {id.Text}, so nothing would be swept");
            }

            return new Target(null, fault.Id, Unit.Find(fault.Severity!.Unit)!, value => fault.Problem(value));
        }

        return null;
    }

    private static (IReadOnlyList<double> Points, bool Logarithmic) Points(Section section, Target swept)
    {
        string[] range = ["from", "to", "count"];
        var given = range.Where(section.Has).ToList();
        if (section.Has("points"))
        {
            foreach (var extra in given.Concat(section.Has("spacing") ? ["spacing"] : []))
            {
                section.Note(extra, $"\"{extra}\" belongs to an even range; the points are listed one by one already");
            }

            return (Listed(section, swept), false);
        }

        if (given.Count < range.Length)
        {
            section.Findings.Add(section.Place, "", $"the sweep has no points: list them under \"points\", or give from, to and count ({string.Join(" and ", range.Except(given))} missing)");
            return ([], false);
        }

        return Even(section, swept);
    }

    private static List<double> Listed(Section section, Target swept)
    {
        var points = new List<double>();
        foreach (var text in section.Texts("points"))
        {
            if (Read(text, swept, section.Findings) is not { } value)
            {
                continue;
            }

            if (points.Contains(value))
            {
                section.Findings.Add(text, $"the point {text.Text} is listed twice");
            }

            points.Add(value);
        }

        return points;
    }

    private static (IReadOnlyList<double> Points, bool Logarithmic) Even(Section section, Target swept)
    {
        var logarithmic = section.Choice("spacing", Words.Spacing)?.Value ?? false;
        var from = section.TextNode("from") is { } first ? Read(first, swept, section.Findings) : null;
        var to = section.TextNode("to") is { } last ? Read(last, swept, section.Findings) : null;
        var count = section.Count("count");
        if (from is not { } a || to is not { } b || count is not { } n)
        {
            return ([], logarithmic);
        }

        if (a == b)
        {
            section.Note("to", "the sweep starts and ends at the same point");
            return ([], logarithmic);
        }

        if (logarithmic && (a <= 0 || b <= 0))
        {
            section.Note("spacing", "logarithmic spacing needs both ends above zero; equal ratios never reach it");
            return ([], logarithmic);
        }

        // The ends are taken as written: no rounding may push them out of the legal range.
        var points = new double[n];
        for (var i = 0; i < n; i++)
        {
            var share = (double)i / (n - 1);
            points[i] = i == 0 ? a : i == n - 1 ? b : logarithmic ? a * Math.Pow(b / a, share) : a + (b - a) * share;
        }

        return (points, logarithmic);
    }

    private static double? Read(TextNode text, Target swept, Findings findings)
    {
        if (QuantityText.Read(text, swept.Unit, findings) is not { } value)
        {
            return null;
        }

        if (swept.Problem(value) is { } problem)
        {
            findings.Add(text, problem.TrimEnd('.'));
            return null;
        }

        return value;
    }

    private sealed record Target(string? Value, string? Fault, Unit Unit, Func<double, string?> Problem);
}
