using BoardSim.Reports.Notebooks;

namespace BoardSim.Notebooks;

/// <summary>One output of a cell: a stretch of text, or a figure's file.</summary>
/// <param name="Text">What was printed; empty for a figure.</param>
/// <param name="Figure">Path of the PNG file as it was printed; null for text.</param>
public sealed record CellOutput(string Text, string? Figure)
{
    /// <summary>Sorts what a marked copy printed into the outputs of each cell, by the cell's number.</summary>
    /// <param name="printed">Everything that it printed.</param>
    /// <param name="name">Name of the notebook, for messages.</param>
    /// <exception cref="NotebookException">The run did not come to its end.</exception>
    public static IReadOnlyDictionary<int, IReadOnlyList<CellOutput>> Sort(string printed, string name)
    {
        ArgumentNullException.ThrowIfNull(printed);
        Dictionary<int, IReadOnlyList<CellOutput>> cells = [];
        List<CellOutput> current = [];
        var ended = false;
        foreach (var line in printed.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n'))
        {
            if (line == MarkedCopy.End)
                ended = true;
            else if (line.StartsWith(MarkedCopy.Mark, StringComparison.Ordinal))
                cells[int.Parse(line[MarkedCopy.Mark.Length..], System.Globalization.CultureInfo.InvariantCulture)] = current = [];
            else if (line.StartsWith(NotebookPage.FigureMark, StringComparison.Ordinal))
                current.Add(new CellOutput("", line[NotebookPage.FigureMark.Length..]));
            else if (current.Count > 0 && current[^1].Figure is null)
                current[^1] = new CellOutput(current[^1].Text + line + "\n", null);
            else
                current.Add(new CellOutput(line + "\n", null));
        }

        return ended ? cells : throw new NotebookException($"{name}: the run stopped before its end.");
    }
}
