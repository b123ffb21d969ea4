using BoardSim.Blocks;
using BoardSim.Quantities;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads values of a block.</summary>
internal static class ValuesReader
{
    /// <summary>The values behind a key; wrong ones are noted and left out.</summary>
    public static IReadOnlyList<ValueSetting> Read(Node? node, BlockInHand? block, Findings findings)
    {
        if (node is null || Section.AsMap(node, "values of the block, such as load.resistance: 47 ohm", findings) is not { } map || block is null)
        {
            return [];
        }

        var settings = new List<ValueSetting>();
        foreach (var (key, value) in map.Entries)
        {
            var definition = block.Block.Values.FirstOrDefault(v => v.Key == key.Text);
            if (definition is null)
            {
                findings.AddUnknown(key, $"value of block {block.Id}", block.Block.Values.Select(v => v.Key));
            }
            else if (value is not TextNode text)
            {
                findings.Add(value.Place, "", $"{key.Text} takes a single value, and this is {value.Kind}");
            }
            else if (One(definition, text, findings) is { } read)
            {
                settings.Add(new ValueSetting(definition.Key, read, text.Text));
            }
        }

        return settings;
    }

    /// <summary>One value; null when it is wrong, which is then noted.</summary>
    public static object? One(ValueDefinition definition, TextNode text, Findings findings)
    {
        if (definition.Kind == ValueKind.Choice)
        {
            if (definition.Choices.Contains(text.Text, StringComparer.Ordinal))
            {
                return text.Text;
            }

            findings.AddUnknown(text, $"choice for {definition.Key}", definition.Choices);
            return null;
        }

        if (QuantityText.Read(text, Unit.Find(definition.Unit)!, findings) is not { } value)
        {
            return null;
        }

        if (definition.Problem(value) is { } problem)
        {
            findings.Add(text, problem.TrimEnd('.'));
            return null;
        }

        return value;
    }
}
