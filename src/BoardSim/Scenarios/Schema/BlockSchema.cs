using System.Text.Json.Nodes;
using BoardSim.Blocks;
using BoardSim.Faults;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Reader;
using BoardSim.Scenarios.Running;

namespace BoardSim.Scenarios.Schema;

/// <summary>What a block adds to the schema: its values, faults, test points, currents and readouts.</summary>
internal static class BlockSchema
{
    /// <summary>If the scenario is about this block, then its names are the legal ones.</summary>
    public static JsonObject Condition(Block block)
    {
        static JsonObject Ref(string name) => new() { ["$ref"] = $"#/$defs/{name}" };
        static JsonObject Each(JsonObject properties) => new() { ["additionalProperties"] = new JsonObject { ["properties"] = properties } };

        return new JsonObject
        {
            ["if"] = new JsonObject
            {
                ["required"] = new JsonArray("block"),
                ["properties"] = new JsonObject { ["block"] = new JsonObject { ["const"] = block.Id } },
            },
            ["then"] = new JsonObject
            {
                ["properties"] = new JsonObject
                {
                    ["values"] = Ref($"{block.Id}.values"),
                    ["conditions"] = Each(new JsonObject { ["faults"] = Ref($"{block.Id}.faults"), ["values"] = Ref($"{block.Id}.values") }),
                    ["observe"] = Each(new JsonObject
                    {
                        ["point"] = Ref($"{block.Id}.test-points"),
                        ["against"] = Ref($"{block.Id}.lead-places"),
                        ["current"] = Ref($"{block.Id}.currents"),
                        ["readout"] = Ref($"{block.Id}.readouts"),
                        ["state"] = Ref($"{block.Id}.states"),
                    }),
                    ["sweep"] = new JsonObject
                    {
                        ["properties"] = new JsonObject
                        {
                            ["vary"] = Ref($"{block.Id}.sweepable-values"),
                            ["severity-of"] = Ref($"{block.Id}.faults-with-severity"),
                        },
                    },
                    ["tolerance"] = new JsonObject { ["properties"] = new JsonObject { ["of"] = Ref($"{block.Id}.tolerances") } },
                },
            },
        };
    }

    /// <summary>The lists of names of the block.</summary>
    public static IEnumerable<(string Name, JsonObject Schema)> Definitions(Block block)
    {
        var variants = BlockVariants.Of(block.Id);
        var boards = variants.Select(v => v.Build()).ToList();
        var faults = variants.SelectMany(v => v.Faults).DistinctBy(f => f.Id).ToList();
        yield return ($"{block.Id}.values", Values(block.Values));
        yield return ($"{block.Id}.sweepable-values", FieldSchema.Words(block.Values.Where(v => v.Kind == ValueKind.Quantity).Select(v => (v.Key, v.Description))));
        yield return ($"{block.Id}.tolerances", Mapping(block.Values.Where(v => v.Kind == ValueKind.Quantity).Select(v => (v.Key, Tolerance(v)))));
        yield return ($"{block.Id}.faults", Mapping(faults.Select(f => (f.Id, Fault(f)))));
        yield return ($"{block.Id}.faults-with-severity", FieldSchema.Words(faults.Where(f => f.Severity is not null).Select(f => (f.Id, f.Title))));
        yield return ($"{block.Id}.test-points", Names(boards.SelectMany(b => b.TestPoints), p => p.Name, p => p.Description));
        yield return ($"{block.Id}.lead-places", Names(boards.SelectMany(LeadPlaces.Of), p => p.Name, p => p.Description));
        yield return ($"{block.Id}.currents", Names(boards.SelectMany(b => b.Currents), c => c.Name, c => c.Description));
        yield return ($"{block.Id}.states", Names(boards.SelectMany(b => b.States), s => s.Name, s => s.Description));
        yield return ($"{block.Id}.readouts", Names(boards.SelectMany(b => b.Readouts), r => r.Name, r => r.Description));
    }

    /// <summary>A mapping of values by their keys.</summary>
    public static JsonObject Values(IEnumerable<ValueDefinition> values) => Mapping(values.Select(v => (v.Key, Value(v))));

    private static JsonObject Names<T>(IEnumerable<T> items, Func<T, string> name, Func<T, string> description) =>
        FieldSchema.Words(items.GroupBy(name).Select(g => (g.Key, description(g.First()))));

    private static JsonObject Mapping(IEnumerable<(string Key, JsonObject Schema)> entries)
    {
        var properties = new JsonObject();
        foreach (var (key, schema) in entries)
        {
            properties[key] = schema;
        }

        return FieldSchema.OrNothing(new JsonObject { ["additionalProperties"] = false, ["properties"] = properties });
    }

    private static JsonObject Value(ValueDefinition value)
    {
        if (value.Kind == ValueKind.Choice)
        {
            return FieldSchema.Described(
                new JsonObject { ["enum"] = new JsonArray([.. value.Choices.Select(c => JsonValue.Create(c))]) },
                $"{value.Description} Usual: {value.Default}.");
        }

        var unit = Unit.Find(value.Unit)!;
        var usual = value.Default is double number ? $" Usual: {Quantity.FormatShort(number, unit)}." : "";
        return FieldSchema.Described(FieldSchema.Quantity(unit), $"{value.Description}{usual} Legal: {QuantityText.Range(unit, value.Minimum, value.Maximum)}.");
    }

    private static JsonObject Tolerance(ValueDefinition value) =>
        FieldSchema.Described(new JsonObject { ["$ref"] = "#/$defs/" + FieldSchema.ValueTolerance }, $"{value.Description} Its tolerance.");

    private static JsonObject Fault(FaultDefinition fault)
    {
        var present = new JsonObject { ["const"] = ScenarioFormat.Present };
        if (fault.Severity is not { } severity)
        {
            return FieldSchema.Described(present, $"{fault.Title}. {fault.Mechanism}");
        }

        var unit = Unit.Find(severity.Unit)!;
        return FieldSchema.Described(
            new JsonObject { ["anyOf"] = new JsonArray(present, FieldSchema.Quantity(unit)) },
            $"{fault.Title}. {fault.Mechanism} Severity: {severity.Description.TrimEnd('.')}. Usual: {severity.Show(severity.Default)}. "
            + $"Legal: {QuantityText.Range(unit, severity.Minimum, severity.Maximum)}.");
    }
}
