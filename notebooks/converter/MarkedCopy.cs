using System.Globalization;
using System.Text;

namespace BoardSim.Notebooks;

/// <summary>
/// A copy of a source that says, in between what it prints, which cell it is in, and at its end that it got there. The source
/// itself stays free of anything that only the converter needs.
/// </summary>
public static class MarkedCopy
{
    /// <summary>Start of a line that says that the cell of the number behind it begins; a control character that no table prints.</summary>
    public const string Mark = "\u001ecell ";

    /// <summary>Last line of a run that came to its end.</summary>
    public const string End = "\u001eend";

    /// <summary>The copy.</summary>
    /// <param name="source">The source.</param>
    /// <param name="toSource">Path from the copy's folder to the source's folder, with forward slashes.</param>
    public static string Write(NotebookSource source, string toSource)
    {
        ArgumentNullException.ThrowIfNull(source);
        var text = new StringBuilder();
        foreach (var directive in source.Directives)
            text.Append(directive.Replace("#:project ", $"#:project {toSource}/", StringComparison.Ordinal)).Append('\n');
        for (var k = 0; k < source.Cells.Count; k++)
        {
            if (source.Cells[k].Kind != CellKind.Code)
                continue;
            var lines = source.Cells[k].Lines;
            var usings = lines.TakeWhile(line => line.Length == 0 || line.StartsWith("using ", StringComparison.Ordinal)).Count();
            foreach (var line in lines.Take(usings))
                text.Append(line).Append('\n');
            text.Append(CultureInfo.InvariantCulture, $"System.Console.WriteLine(\"\\u001ecell {k}\");\n");
            foreach (var line in lines.Skip(usings))
                text.Append(line).Append('\n');
        }

        return text.Append("System.Console.WriteLine(\"\\u001eend\");\n").ToString();
    }
}
