using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using BoardSim.Reports.Notebooks;

namespace BoardSim.Notebooks;

/// <summary>Compares what a notebook prints with what its rendered form says it printed.</summary>
public static partial class PrintedNumbers
{
    /// <summary>All that the cells of a rendered notebook printed, figures left out.</summary>
    /// <param name="notebook">Text of the .ipynb file.</param>
    public static string Of(string notebook)
    {
        var root = JsonNode.Parse(notebook)!;
        var lines = root["cells"]!.AsArray().SelectMany(cell => cell!["outputs"]?.AsArray() ?? [])
            .Where(output => (string?)output!["output_type"] == "stream")
            .SelectMany(output => output!["text"]!.AsArray().Select(line => (string)line!));
        return string.Concat(lines);
    }

    /// <summary>
    /// The first difference in words; null when there is none. The words have to be the same. Numbers may differ by 1e-6 of their
    /// value, or by one unit in the last printed digit: they are printed with about four digits, and a sum that another
    /// processor rounds differently in its sixteenth digit can tip that last one. A changed model or step control moves more.
    /// </summary>
    /// <param name="printed">What the source printed now.</param>
    /// <param name="rendered">What its rendered form holds.</param>
    public static string? Difference(string printed, string rendered)
    {
        var now = Lines(printed);
        var before = Lines(rendered);
        for (var k = 0; k < Math.Max(now.Count, before.Count); k++)
        {
            if (k >= now.Count || k >= before.Count)
                return $"the rendered notebook has {before.Count} lines of output, the run printed {now.Count}";
            if (!Same(now[k], before[k]))
                return $"the rendered notebook says '{before[k].Trim()}', the run printed '{now[k].Trim()}'";
        }

        return null;
    }

    // Column widths follow the digits, so blanks and rules carry nothing.
    private static List<string> Lines(string text) =>
        [.. text.ReplaceLineEndings("\n").Split('\n').Where(line => line.Trim(' ', '-').Length > 0 && !line.StartsWith(NotebookPage.FigureMark, StringComparison.Ordinal))];

    private static bool Same(string a, string b)
    {
        if (Blanks().Replace(Number().Replace(a, "#"), " ") != Blanks().Replace(Number().Replace(b, "#"), " "))
            return false;
        return Number().Matches(a).Zip(Number().Matches(b)).All(pair => Close(pair.First.Value, pair.Second.Value));
    }

    private static bool Close(string a, string b)
    {
        var (x, y) = (double.Parse(a, CultureInfo.InvariantCulture), double.Parse(b, CultureInfo.InvariantCulture));
        var unit = Math.Max(LastDigit(a), LastDigit(b));
        return Math.Abs(x - y) <= Math.Max(1e-6 * Math.Max(Math.Abs(x), Math.Abs(y)), 1.001 * unit);
    }

    private static double LastDigit(string number)
    {
        var parts = number.Split('e', 'E');
        var point = parts[0].IndexOf('.', StringComparison.Ordinal);
        var decimals = point < 0 ? 0 : parts[0].Length - point - 1;
        var exponent = parts.Length > 1 ? int.Parse(parts[1], CultureInfo.InvariantCulture) : 0;
        return point < 0 && parts.Length == 1 ? 0 : Math.Pow(10, exponent - decimals);
    }

    [GeneratedRegex(@"(?<![\w.])-?\d+(\.\d+)?([eE][-+]?\d+)?")]
    private static partial Regex Number();

    [GeneratedRegex(" +")]
    private static partial Regex Blanks();
}
