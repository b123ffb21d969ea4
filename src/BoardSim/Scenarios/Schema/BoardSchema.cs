using System.Text.Json.Nodes;
using BoardSim.Blocks;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Schema;

namespace BoardSim.Scenarios;

/// <summary>The JSON Schema (draft 2020-12) of board files, made of the same definitions that the reader works with.</summary>
public static class BoardSchema
{
    /// <summary>The schema as JSON text, lines separated by line feeds; the same bytes on every machine.</summary>
    public static string ToJson()
    {
        var placeable = BlockCatalogue.All.Where(b => b.Ports.Count > 0).ToList();
        var schema = SchemaText.Start("BoardSim board", "Blocks that are wired into a board: which blocks, with which values, on which nets.", FieldSchema.Of(BoardFormat.Root));
        var blocks = schema["properties"]!["blocks"]!["additionalProperties"]!.AsObject();
        blocks["allOf"] = new JsonArray([.. placeable.Select(Condition)]);
        var definitions = new JsonObject();
        foreach (var block in placeable)
        {
            definitions[$"{block.Id}.values"] = BlockSchema.Values(block.Values.Where(v => !v.OnBenchOnly));
            definitions[$"{block.Id}.wires"] = Wires(block);
        }

        schema["$defs"] = definitions;
        return SchemaText.Write(schema);
    }

    private static JsonObject Condition(Block block) => new()
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
                ["values"] = new JsonObject { ["$ref"] = $"#/$defs/{block.Id}.values" },
                ["wires"] = new JsonObject { ["$ref"] = $"#/$defs/{block.Id}.wires" },
            },
        },
    };

    private static JsonObject Wires(Block block)
    {
        var properties = new JsonObject();
        foreach (var port in block.Ports)
        {
            properties[port.Name] = FieldSchema.Described(FieldSchema.Name(), port.Description);
        }

        var schema = new JsonObject { ["type"] = "object", ["additionalProperties"] = false, ["properties"] = properties };
        if (block.Ports.Any(p => !p.IsOptional))
        {
            schema["required"] = new JsonArray([.. block.Ports.Where(p => !p.IsOptional).Select(p => JsonValue.Create(p.Name))]);
        }

        return schema;
    }
}
