using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace BoardSim.Scenarios.Schema;

/// <summary>Head and layout that the schemas share.</summary>
internal static class SchemaText
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true,
        IndentSize = 2,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>A schema with its head, and the keys of a mapping after it.</summary>
    public static JsonObject Start(string title, string description, JsonObject root)
    {
        var schema = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = title,
            ["description"] = description,
        };
        foreach (var (key, part) in root.ToList())
        {
            root.Remove(key);
            schema[key] = part;
        }

        return schema;
    }

    /// <summary>The text, lines separated by line feeds.</summary>
    public static string Write(JsonObject schema) => schema.ToJsonString(Layout) + "\n";
}
