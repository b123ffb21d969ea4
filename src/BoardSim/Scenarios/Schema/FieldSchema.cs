using System.Text.Json.Nodes;
using BoardSim.Blocks;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Reader;

namespace BoardSim.Scenarios.Schema;

/// <summary>Schemas of the format's own keys. What depends on the block is left open here and narrowed by <see cref="BlockSchema"/>.</summary>
internal static class FieldSchema
{
    /// <summary>Name of the schema of one value's tolerance.</summary>
    public const string ValueTolerance = "value-tolerance";

    private const string NamePattern = "^[a-z][a-z0-9]*(-[a-z0-9]+)*$";

    /// <summary>Schema of a mapping with known keys.</summary>
    public static JsonObject Of(FieldSet fields)
    {
        var properties = new JsonObject();
        foreach (var field in fields.Fields)
        {
            properties[field.Name] = Described(Of(field.Type), field.Description);
        }

        var schema = new JsonObject { ["type"] = "object", ["additionalProperties"] = false, ["properties"] = properties };
        if (fields.Fields.Any(f => f.Required))
        {
            schema["required"] = new JsonArray([.. fields.Fields.Where(f => f.Required).Select(f => JsonValue.Create(f.Name))]);
        }

        return schema;
    }

    /// <summary>A tolerance by itself, or with its distribution.</summary>
    public static JsonObject Tolerance() => new()
    {
        ["anyOf"] = new JsonArray(new JsonObject { ["type"] = new JsonArray("string", "number") }, Of(ScenarioFormat.ValueTolerance)),
    };

    /// <summary>One of a few words, each with its description; when there is no word, nothing is legal.</summary>
    public static JsonObject Words(IEnumerable<(string Name, string Description)> words)
    {
        var all = words.Select(w => new JsonObject { ["const"] = w.Name, ["description"] = w.Description }).ToArray<JsonNode>();
        return all.Length == 0 ? new JsonObject { ["not"] = new JsonObject() } : new JsonObject { ["oneOf"] = new JsonArray(all) };
    }

    /// <summary>A quantity of a unit. A bare number is let in where the unit is a ratio.</summary>
    public static JsonObject Quantity(Unit unit)
    {
        var text = new JsonObject { ["type"] = "string", ["pattern"] = QuantityPattern.Of(unit) };
        return unit == Unit.Ratio ? new JsonObject { ["oneOf"] = new JsonArray(new JsonObject { ["type"] = "number" }, text) } : text;
    }

    /// <summary>The schema with a description as its first key.</summary>
    public static JsonObject Described(JsonObject schema, string description)
    {
        schema.Remove("description");
        schema.Insert(0, "description", description);
        return schema;
    }

    /// <summary>A name of the author's own.</summary>
    public static JsonObject Name() => new() { ["type"] = "string", ["pattern"] = NamePattern };

    /// <summary>A mapping that may also be left empty, as <c>healthy:</c> with nothing behind it.</summary>
    public static JsonObject OrNothing(JsonObject schema)
    {
        schema["type"] = new JsonArray("object", "null");
        return schema;
    }

    private static JsonObject Of(FieldType type) => type switch
    {
        NameType => Name(),
        QuantityType quantity => Described(
            Quantity(quantity.Unit),
            QuantityText.Range(quantity.Unit, quantity.Minimum, quantity.Maximum, quantity.Above)),
        AnyQuantityType => new JsonObject { ["type"] = new JsonArray("string", "number") },
        CountType count => new JsonObject { ["type"] = "integer", ["minimum"] = count.Minimum, ["maximum"] = count.Maximum },
        ChoiceType choice => Words(choice.Words.Select(w => (w.Name, w.Description))),
        WindowType => new JsonObject { ["type"] = "string", ["pattern"] = WindowReader.Pattern },
        ExpectationType => new JsonObject { ["type"] = "string", ["minLength"] = 1 },
        ListType list => new JsonObject { ["type"] = "array", ["minItems"] = 1, ["items"] = Of(list.Item) },
        NamedType named => OrNothing(new JsonObject { ["propertyNames"] = new JsonObject { ["pattern"] = NamePattern }, ["additionalProperties"] = Item(named.Item) }),
        ObjectType => Item(type),
        BlockType => Words(BlockCatalogue.All.Select(b => (b.Id, b.Title))),
        MetricType => Words(Metrics.All.Select(m => (m.Id, $"{m.Title}. {m.Definition}"))),
        MetricParametersType => Parameters(),
        OfBlockType { What: BlockNames.Values or BlockNames.Faults or BlockNames.Tolerances or BlockNames.Wires } => OrNothing([]),
        OfBlockType => new JsonObject { ["type"] = "string" },
        _ => new JsonObject { ["type"] = new JsonArray("string", "number", "boolean") },
    };

    private static JsonObject Item(FieldType type) => type is ObjectType { Fields: var fields } && fields.Fields.All(f => !f.Required) ? OrNothing(Of(fields)) : type is ObjectType some ? Of(some.Fields) : Of(type);

    /// <summary>All parameters of all metrics; which of them a metric takes is left to the reader.</summary>
    private static JsonObject Parameters()
    {
        var properties = new JsonObject();
        foreach (var group in Metrics.All.SelectMany(m => m.Parameters, (m, p) => (Metric: m, Parameter: p)).GroupBy(x => x.Parameter.Key).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            var metrics = string.Join(", ", group.Select(x => x.Metric.Id));
            var one = group.All(x => x.Parameter.Unit is { } unit && unit == group.First().Parameter.Unit) ? group.First().Parameter.Unit : null;
            properties[group.Key] = Described(
                one is null ? new JsonObject { ["type"] = new JsonArray("string", "number") } : Quantity(one),
                $"{group.First().Parameter.Description} (of {metrics})");
        }

        return new JsonObject { ["type"] = "object", ["additionalProperties"] = false, ["properties"] = properties };
    }
}
