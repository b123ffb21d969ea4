using BoardSim.Blocks;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Expectations;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the tolerance run, and sees that every value stays legal at both ends of its tolerance under every condition.</summary>
internal static class ToleranceReader
{
    private const int UsualSamples = 1000;
    private const int MostCornerValues = 12;

    public static ToleranceSpec? Read(Section root, BlockInHand? block, IReadOnlyList<ValueSetting> values, IReadOnlyList<ConditionSpec> conditions, Outputs outputs)
    {
        if (root.Node("tolerance") is not { } node || Section.Open(node, ScenarioFormat.Tolerance, root.Findings) is not { } section)
        {
            return null;
        }

        var findings = root.Findings;
        var record = section.Texts("record").Where(r => outputs.Check(r, findings)).Select(r => r.Text).ToList();
        var named = SweepReader.Conditions(section, conditions);
        var usual = section.Choice("distribution", Words.Scatter)?.Value ?? Scatter.Uniform;
        var before = findings.Count;
        var tolerances = Tolerances(section, block, usual);
        if (tolerances.Count == 0 && section.Has("of") && findings.Count == before)
        {
            section.Note("of", "no value has a tolerance, so all boards would be alike");
        }

        var corners = section.Choice("corners", Words.Corners)?.Value ?? false;
        if (corners && tolerances.Count > MostCornerValues)
        {
            section.Note("corners", $"{tolerances.Count} values have 2^{tolerances.Count} corners; at most {MostCornerValues} values can have theirs computed");
            corners = false;
        }

        var samples = section.Count("samples") ?? UsualSamples;
        if (samples == 0 && !corners && section.Has("samples"))
        {
            section.Note("samples", "no board is drawn and no corner is computed; ask for one or the other");
        }

        if (block?.Board is not null)
        {
            foreach (var condition in named.Where(c => block.Boards.ContainsKey(c.Name)))
            {
                CheckEnds(tolerances, condition, block, values, findings);
            }
        }

        return new ToleranceSpec
        {
            Values = [.. tolerances.Select(t => t.Tolerance)],
            Samples = samples,
            Seed = section.Count("seed") ?? 1,
            Corners = corners,
            Conditions = [.. named.Select(c => c.Name)],
            Record = record,
        };
    }

    private static List<(TextNode Key, ValueTolerance Tolerance)> Tolerances(Section section, BlockInHand? block, Scatter usual)
    {
        var read = new List<(TextNode, ValueTolerance)>();
        if (section.Node("of") is not { } node || Section.AsMap(node, "values of the block with their tolerances, such as divider.resistance: 1 %", section.Findings) is not { } map
            || block is null)
        {
            return read;
        }

        var quantities = block.Block.Values.Where(v => v.Kind == ValueKind.Quantity).ToList();
        foreach (var (key, value) in map.Entries)
        {
            if (quantities.FirstOrDefault(v => v.Key == key.Text) is not { } definition)
            {
                section.Findings.AddUnknown(key, $"value with a unit of block {block.Id}", quantities.Select(v => v.Key));
            }
            else if (One(definition, value, usual, section.Findings) is { } tolerance)
            {
                read.Add((key, tolerance));
            }
        }

        return read;
    }

    private static ValueTolerance? One(ValueDefinition definition, Node value, Scatter usual, Findings findings)
    {
        var distribution = usual;
        var text = value as TextNode;
        if (value is MapNode)
        {
            if (Section.Open(value, ScenarioFormat.ValueTolerance, findings) is not { } section)
            {
                return null;
            }

            distribution = section.Choice("distribution", Words.Scatter)?.Value ?? usual;
            text = section.TextNode("tolerance");
        }
        else if (text is null || text.IsNothing)
        {
            findings.Add(value.Place, "", $"{definition.Key} takes its tolerance, such as 1 %");
            return null;
        }

        if (text is null)
        {
            return null;
        }

        if (!ExpectationUnits.TryTolerance(text.Text, Unit.Find(definition.Unit)!, out var tolerance, out var relative, out var problem))
        {
            findings.Add(text, problem.TrimEnd('.'));
            return null;
        }

        return new ValueTolerance(definition.Key, tolerance, relative, distribution, text.Text);
    }

    private static void CheckEnds(
        IReadOnlyList<(TextNode Key, ValueTolerance Tolerance)> tolerances, ConditionSpec condition, BlockInHand block, IReadOnlyList<ValueSetting> values, Findings findings)
    {
        var under = BoardOf.Block(block.Fresh, values, condition);
        foreach (var (key, tolerance) in tolerances)
        {
            var definition = under.Value(tolerance.Key);
            if (definition.Get(under) is not double nominal)
            {
                findings.Add(key, $"under condition {condition.Name}, {key.Text} has no value that a tolerance could go from; set it under \"values\"");
                continue;
            }

            foreach (var deviation in new[] { -1, 1 })
            {
                if (definition.Problem(tolerance.At(nominal, deviation)) is { } problem)
                {
                    findings.Add(key, $"under condition {condition.Name}, an end of the tolerance is not legal: {problem.TrimEnd('.')}");
                }
            }
        }
    }
}
