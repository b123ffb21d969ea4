using System.Text;

namespace BoardSim.Reports.Notebooks;

/// <summary>
/// A table in plain text for a console or a notebook's output: the first column is set to the left, the others to the right,
/// and nothing depends on the width of a window.
/// </summary>
public sealed class TextTable
{
    private readonly List<string[]> rows = [];

    /// <summary>Starts a table.</summary>
    /// <param name="heads">Heads of the columns, one or more.</param>
    /// <exception cref="ReportException">There is no column.</exception>
    public TextTable(params IReadOnlyList<string> heads)
    {
        ArgumentNullException.ThrowIfNull(heads);
        if (heads.Count == 0)
            throw new ReportException("A table needs a column; give it at least one head.");
        rows.Add([.. heads]);
    }

    /// <summary>Adds a row.</summary>
    /// <param name="cells">Texts of the cells, one for each head.</param>
    /// <exception cref="ReportException">There are more or fewer cells than heads.</exception>
    public TextTable Add(params IReadOnlyList<string> cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        if (cells.Count != rows[0].Length)
            throw new ReportException($"The row '{string.Join(", ", cells)}' has {cells.Count} cells and the table {rows[0].Length} columns; give it one cell for each.");
        rows.Add([.. cells]);
        return this;
    }

    /// <summary>The table as lines of text, a rule under the heads, each line with its line feed.</summary>
    public override string ToString()
    {
        var widths = rows[0].Select((_, column) => rows.Max(row => row[column].Length)).ToArray();
        var text = new StringBuilder();
        Line(text, rows[0], widths);
        text.AppendJoin("  ", widths.Select(width => new string('-', width))).Append('\n');
        foreach (var row in rows.Skip(1))
            Line(text, row, widths);
        return text.ToString();
    }

    private static void Line(StringBuilder text, string[] row, int[] widths)
    {
        var line = string.Join("  ", row.Select((cell, column) => column == 0 ? cell.PadRight(widths[0]) : cell.PadLeft(widths[column])));
        text.Append(line.TrimEnd()).Append('\n');
    }
}
