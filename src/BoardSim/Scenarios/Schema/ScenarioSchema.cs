using System.Text.Json.Nodes;
using BoardSim.Blocks;
using BoardSim.Scenarios.Schema;

namespace BoardSim.Scenarios;

/// <summary>The JSON Schema (draft 2020-12) of scenario files, made of the same definitions that the reader works with: editors
/// complete and mark scenarios with it.</summary>
public static class ScenarioSchema
{
    /// <summary>The schema as JSON text, lines separated by line feeds; the same bytes on every machine.</summary>
    public static string ToJson() => SchemaText.Write(Root());

    private static JsonObject Root()
    {
        var blocks = BlockCatalogue.All;
        var schema = SchemaText.Start(
            "BoardSim scenario",
            "A block of a control board or a whole board, the conditions it is run under, what is observed, and what is expected. Every value is a text with its unit.",
            FieldSchema.Of(Format.ScenarioFormat.Root));
        schema["oneOf"] = new JsonArray(
            new JsonObject { ["required"] = new JsonArray("block") },
            new JsonObject { ["required"] = new JsonArray("board") });
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
