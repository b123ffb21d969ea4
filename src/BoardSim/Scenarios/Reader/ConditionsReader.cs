using BoardSim.Blocks;
using BoardSim.Faults;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the conditions, and builds the board of each to see that its values and faults go together.</summary>
internal static class ConditionsReader
{
    public static IReadOnlyList<ConditionSpec> Read(Section root, BlockInHand? block, IReadOnlyList<ValueSetting> values)
    {
        var conditions = new List<ConditionSpec>();
        foreach (var (name, node) in root.Named("conditions"))
        {
            if (Section.Open(node, ScenarioFormat.Condition, root.Findings) is not { } section)
            {
                continue;
            }

            var before = root.Findings.Count;
            var condition = new ConditionSpec
            {
                Name = name.Text,
                Label = section.Text("label") ?? name.Text,
                Faults = Faults(section.Node("faults"), block, root.Findings),
                Values = ValuesReader.Read(section.Node("values"), block, root.Findings),
            };
            conditions.Add(condition);
            if (condition.IsHealthy && section.Node("faults") is not null and not TextNode { IsNothing: true })
            {
                section.Note("faults", "the condition named healthy has no faults; give the faulty one a name of its own");
            }

            if (root.Findings.Count == before && block?.Board is not null)
            {
                TryOut(name, condition, block, values, root.Findings);
            }
        }

        if (root.Has("conditions") && root.Named("conditions").All(e => e.Key.Text != ConditionSpec.Healthy))
        {
            root.Note("conditions", $"no condition is named {ConditionSpec.Healthy}; every scenario has one, without faults, that the others are compared with");
        }

        return conditions;
    }

    private static List<FaultSetting> Faults(Node? node, BlockInHand? block, Findings findings)
    {
        if (node is null || Section.AsMap(node, "faults with their severities, such as bulk-open: present", findings) is not { } map || block is null)
        {
            return [];
        }

        var settings = new List<FaultSetting>();
        foreach (var (key, value) in map.Entries)
        {
            // A fault that is there under one choice only is known; whether the condition makes that choice shows when its board is built.
            var fault = block.Block.Faults.FirstOrDefault(f => f.Id == key.Text) ?? block.ElsewhereFault(key.Text);
            if (fault is null)
            {
                findings.AddUnknown(key, $"fault of block {block.Id}", block.Block.Faults.Select(f => f.Id));
            }
            else if (value is not TextNode text)
            {
                findings.Add(value.Place, "", $"{key.Text} takes {Wanted(fault)}, and this is {value.Kind}");
            }
            else if (text.Text == ScenarioFormat.Present)
            {
                settings.Add(new FaultSetting(fault.Id, null, text.Text));
            }
            else
            {
                // Kept when the severity is wrong as well: what else speaks of the fault is not wrong for that.
                settings.Add(new FaultSetting(fault.Id, Severity(fault, text, findings), text.Text));
            }
        }

        return settings;
    }

    /// <summary>A severity; null when it is wrong, which is then noted.</summary>
    public static double? Severity(FaultDefinition fault, TextNode text, Findings findings)
    {
        if (fault.Severity is null || text.IsNothing)
        {
            findings.Add(text, $"\"{Findings.Quote(text.Text)}\" stands behind {fault.Id}, which takes {Wanted(fault)}");
            return null;
        }

        if (QuantityText.Read(text, Unit.Find(fault.Severity.Unit)!, findings) is not { } severity)
        {
            return null;
        }

        if (fault.Problem(severity) is { } problem)
        {
            findings.Add(text, problem.TrimEnd('.'));
            return null;
        }

        return severity;
    }

    private static string Wanted(FaultDefinition fault) => fault.Severity is { } severity
        ? $"{severity.Description.TrimEnd('.')} (from {severity.Show(severity.Minimum)} to {severity.Show(severity.Maximum)}), or the word {ScenarioFormat.Present} for the usual {severity.Show(severity.Default)}"
        : $"the word {ScenarioFormat.Present}, for it is either there or not";

    private static void TryOut(TextNode name, ConditionSpec condition, BlockInHand block, IReadOnlyList<ValueSetting> values, Findings findings)
    {
        try
        {
            block.Boards[condition.Name] = BoardOf.Condition(block.Fresh, values, condition);
        }
        catch (BlockException wrong)
        {
            foreach (var problem in wrong.Findings)
            {
                findings.Add(name, $"under condition {condition.Name}: {problem.TrimEnd('.')}");
            }
        }
        catch (FaultException wrong)
        {
            findings.Add(name, $"under condition {condition.Name}: {wrong.Message.TrimEnd('.')}");
        }
    }
}
