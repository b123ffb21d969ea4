namespace BoardSim.Notebooks;

/// <summary>Reads a source in percent format: <c>// %%</c> starts a code cell, <c>// %% [markdown]</c> a cell of prose in comments.</summary>
public static class PercentFormat
{
    private const string CodeMark = "// %%";
    private const string ProseMark = "// %% [markdown]";

    /// <summary>Splits a source into its cells. What stands before the first cell are directives of the file-based app, which belong to no cell.</summary>
    /// <param name="text">The source.</param>
    /// <param name="name">Name of the source, for messages.</param>
    /// <exception cref="NotebookException">A line is in no cell, a mark is misspelt, or prose is not commented; the message names the line.</exception>
    public static NotebookSource Read(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(name);
        List<string> directives = [];
        List<(CellKind Kind, List<string> Lines)> cells = [];
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        for (var k = 0; k < lines.Length; k++)
        {
            var line = lines[k].TrimEnd();
            if (line is CodeMark or ProseMark)
                cells.Add((line == CodeMark ? CellKind.Code : CellKind.Prose, []));
            else if (line.StartsWith(CodeMark, StringComparison.Ordinal))
                throw new NotebookException($"{name}({k + 1}): '{line}' starts no cell; write '{CodeMark}' or '{ProseMark}'.");
            else if (cells.Count > 0)
                cells[^1].Lines.Add(cells[^1].Kind == CellKind.Code ? line : Uncommented(line, name, k + 1));
            else if (line.StartsWith("#:", StringComparison.Ordinal))
                directives.Add(line);
            else if (line.Length > 0)
                throw new NotebookException($"{name}({k + 1}): '{line}' is in no cell; only directives (#:) stand before the first '{CodeMark}'.");
        }

        return new NotebookSource(directives, [.. cells.Select(cell => new SourceCell(cell.Kind, Trimmed(cell.Lines))).Where(cell => cell.Lines.Count > 0)]);
    }

    private static string Uncommented(string line, string name, int number) =>
        line.Length == 0 || line == "//" ? ""
        : line.StartsWith("// ", StringComparison.Ordinal) ? line[3..]
        : throw new NotebookException($"{name}({number}): '{line}' stands in a cell of prose and is no comment; start it with '// ', or start a code cell with '{CodeMark}'.");

    // Blank lines around a cell keep the source readable and say nothing.
    private static List<string> Trimmed(List<string> lines)
    {
        var first = lines.FindIndex(line => line.Length > 0);
        return first < 0 ? [] : lines[first..(lines.FindLastIndex(line => line.Length > 0) + 1)];
    }
}
