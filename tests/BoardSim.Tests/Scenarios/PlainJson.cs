using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace BoardSim.Tests.Scenarios;

/// <summary>YAML as an editor's schema check sees it: plain texts resolved by the core schema of YAML 1.2 (2021), section 10.3.2.</summary>
internal static partial class PlainJson
{
    public static JsonNode? Of(string yaml)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(yaml));
        return Of(stream.Documents[0].RootNode);
    }

    private static JsonNode? Of(YamlNode node)
    {
        switch (node)
        {
            case YamlMappingNode map:
                var json = new JsonObject();
                foreach (var (key, value) in map.Children)
                {
                    json[((YamlScalarNode)key).Value!] = Of(value);
                }

                return json;
            case YamlSequenceNode list:
                return new JsonArray([.. list.Children.Select(Of)]);
            default:
                var scalar = (YamlScalarNode)node;
                return scalar.Style == ScalarStyle.Plain ? Plain(scalar.Value ?? "") : JsonValue.Create(scalar.Value);
        }
    }

    private static JsonValue? Plain(string text) => text switch
    {
        "" or "~" or "null" => null,
        "true" => JsonValue.Create(true),
        "false" => JsonValue.Create(false),
        _ when Whole().IsMatch(text) => JsonValue.Create(long.Parse(text, CultureInfo.InvariantCulture)),
        _ when Number().IsMatch(text) => JsonValue.Create(double.Parse(text, CultureInfo.InvariantCulture)),
        _ => JsonValue.Create(text),
    };

    [GeneratedRegex("^[-+]?[0-9]+$")]
    private static partial Regex Whole();

    [GeneratedRegex(@"^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$", RegexOptions.ExplicitCapture)]
    private static partial Regex Number();
}
