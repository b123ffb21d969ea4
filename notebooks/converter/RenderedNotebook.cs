using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace BoardSim.Notebooks;

/// <summary>
/// A notebook in the Jupyter format, nbformat 4.5, with prose, code and outputs. Instead of the directives of the file-based
/// app its first code cell loads the assemblies that the converter was built with.
/// </summary>
public static class RenderedNotebook
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true,
        IndentSize = 1,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>What the first code cell does, in Jupyter only.</summary>
    public static IReadOnlyList<string> Setup { get; } =
    [
        "// For Jupyter only. Build once, in the folder above this one: dotnet build -c Release notebooks/converter",
        .. new[] { "MathNet.Numerics", "YamlDotNet", "SkiaSharp", "HarfBuzzSharp", "SkiaSharp.HarfBuzz", "ScottPlot", "BoardSim.Engine", "BoardSim", "BoardSim.Reports", "BoardSim.Notebooks" }
            .Select(assembly => $"#r \"converter/bin/Release/net10.0/{assembly}.dll\""),
        "BoardSim.Notebooks.JupyterKernel.Start(html => display(HTML(html)));",
    ];

    /// <summary>Fingerprint of a source, the same whatever its line ends; a rendered notebook carries that of the source it was made from.</summary>
    /// <param name="text">Text of the source.</param>
    public static string Fingerprint(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ReplaceLineEndings("\n"))));
    }

    /// <summary>The notebook's text.</summary>
    /// <param name="fileName">Name of the source, without folder.</param>
    /// <param name="text">Text of the source.</param>
    /// <param name="outputs">Outputs by number of the cell.</param>
    /// <param name="figure">Gives the PNG image at a path.</param>
    public static string Write(string fileName, string text, IReadOnlyDictionary<int, IReadOnlyList<CellOutput>> outputs, Func<string, byte[]> figure)
    {
        ArgumentNullException.ThrowIfNull(outputs);
        ArgumentNullException.ThrowIfNull(figure);
        var source = PercentFormat.Read(text, fileName);
        JsonArray cells = [];
        var executed = 0;
        for (var k = 0; k < source.Cells.Count; k++)
        {
            var cell = source.Cells[k];
            if (cell.Kind == CellKind.Prose)
            {
                cells.Add(Cell("markdown", $"cell-{k:00}", cell.Lines));
                continue;
            }

            if (executed == 0)
                cells.Add(Code("setup", Setup, ++executed, []));
            cells.Add(Code($"cell-{k:00}", cell.Lines, ++executed, [.. (outputs.GetValueOrDefault(k) ?? []).Select(output => Output(output, figure))]));
        }

        return Notebook(cells, fileName, text).ToJsonString(Layout) + "\n";
    }

    private static JsonObject Notebook(JsonArray cells, string fileName, string text) => new()
    {
        ["cells"] = cells,
        ["metadata"] = new JsonObject
        {
            ["boardsim"] = new JsonObject { ["source"] = fileName, ["sha256"] = Fingerprint(text) },
            ["kernelspec"] = new JsonObject { ["display_name"] = ".NET (C#)", ["language"] = "C#", ["name"] = ".net-csharp" },
            ["language_info"] = new JsonObject { ["file_extension"] = ".cs", ["mimetype"] = "text/x-csharp", ["name"] = "C#", ["pygments_lexer"] = "csharp" },
        },
        ["nbformat"] = 4,
        ["nbformat_minor"] = 5,
    };

    private static JsonObject Cell(string kind, string id, IReadOnlyList<string> lines) => new()
    {
        ["cell_type"] = kind,
        ["id"] = id,
        ["metadata"] = new JsonObject(),
        ["source"] = Lines(string.Join('\n', lines)),
    };

    private static JsonObject Code(string id, IReadOnlyList<string> lines, int count, JsonArray outputs)
    {
        var cell = Cell("code", id, lines);
        cell["execution_count"] = count;
        cell["outputs"] = outputs;
        return cell;
    }

    private static JsonObject Output(CellOutput output, Func<string, byte[]> figure) => output.Figure is { } path
        ? new JsonObject
        {
            ["data"] = new JsonObject { ["image/png"] = Convert.ToBase64String(figure(path)), ["text/plain"] = Lines($"figure {Path.GetFileNameWithoutExtension(path)}") },
            ["metadata"] = new JsonObject(),
            ["output_type"] = "display_data",
        }
        : new JsonObject { ["name"] = "stdout", ["output_type"] = "stream", ["text"] = Lines(output.Text) };

    // The format wants each line with its line feed, so that a change shows line by line.
    private static JsonArray Lines(string text)
    {
        JsonArray lines = [];
        for (var at = 0; at < text.Length;)
        {
            var next = text.IndexOf('\n', at) is var feed && feed < 0 ? text.Length : feed + 1;
            lines.Add(text[at..next]);
            at = next;
        }

        return lines;
    }
}
