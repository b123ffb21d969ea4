using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using BoardSim.Blocks;
using BoardSim.Scenarios.Schema;

namespace BoardSim.Scenarios;

/// <summary>The JSON Schema (draft 2020-12) of scenario files, made of the same definitions that the reader works with: editors
/// complete and mark scenarios with it.</summary>
public static class ScenarioSchema
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true,
        IndentSize = 2,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The schema as JSON text, lines separated by line feeds; the same bytes on every machine.</summary>
    public static string ToJson() => Root().ToJsonString(Layout) + "\n";

    private static JsonObject Root()
    {
        var blocks = BlockCatalogue.All;
        var root = FieldSchema.Of(Format.ScenarioFormat.Root);
        var schema = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = "BoardSim scenario",
            ["description"] = "A block of a control board, the conditions it is run under, what is observed, and what is expected. Every value is a text with its unit.",
        };
        foreach (var (key, part) in root.ToList())
        {
            root.Remove(key);
            schema[key] = part;
        }

        schema["allOf"] = new JsonArray([.. blocks.Select(BlockSchema.Condition)]);
        var definitions = new JsonObject { [FieldSchema.ValueTolerance] = FieldSchema.Tolerance() };
        foreach (var block in blocks)
        {
            foreach (var (name, part) in BlockSchema.Definitions(block))
            {
                definitions[name] = part;
            }
        }

        schema["$defs"] = definitions;
        return schema;
    }
}
