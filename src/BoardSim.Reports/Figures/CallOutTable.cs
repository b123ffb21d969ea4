using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>The call-outs of a panel as a small table: a row for each number, a column for each trace under a piece of its line.</summary>
internal sealed class CallOutTable
{
    private const float Size = 28;
    private const float Row = 39;
    private const float Pad = 14;
    private const float Gap = 26;
    private const float ShortSample = 74;
    private const float SampleLength = 104;

    private readonly IReadOnlyList<CallOut> rows;
    private readonly List<(string Label, TraceStyle Style, float Width)> columns;
    private readonly float nameWidth;

    public CallOutTable(IReadOnlyList<CallOut> rows, IReadOnlyDictionary<string, TraceStyle> styles)
    {
        this.rows = rows;
        nameWidth = rows.Max(row => Paper.Measure(row.Name, Size));
        columns = [.. styles.Where(style => rows.Any(row => row.Values.Any(value => value.Key == style.Key)))
            .Select(style => (style.Key, style.Value, Math.Max(SampleLength, rows.Max(row => Paper.Measure(Value(row, style.Key), Size, bold: true)))))];
    }

    public float Width => (2 * Pad) + nameWidth + columns.Sum(column => Gap + column.Width);

    public float Height => (2 * Pad) + (Row * rows.Count) + 18;

    public void Paint(Paper paper, SKRect place)
    {
        paper.Box(place, "#FFFFFF", "#8A8A8A", 2, opacity: 245);
        var right = place.Left + Pad + nameWidth;
        for (var k = 0; k < rows.Count; k++)
            paper.Text(rows[k].Name, place.Left + Pad, Line(k), Size);
        foreach (var (label, style, width) in columns)
        {
            right += Gap + width;
            paper.Sample(style, right - SampleLength, place.Top + Pad + 7, SampleLength, marker: false);
            for (var k = 0; k < rows.Count; k++)
                paper.Text(Value(rows[k], label), right, Line(k), Size, bold: true, anchor: Anchor.Right, colour: style.Hex);
        }

        float Line(int k) => place.Top + Pad + 18 + (Row * (k + 0.74f));
    }

    /// <summary>Height of the call-outs as lines of running text of a given width, for a panel without a free corner.</summary>
    public float StripHeight(float width) => Row * (Items(width).Max(item => item.Line) + 1);

    /// <summary>Draws the call-outs as lines of running text.</summary>
    public void PaintStrip(Paper paper, SKRect place)
    {
        foreach (var (line, x, row) in Items(place.Width))
        {
            var at = place.Left + x;
            var y = place.Top + (Row * (line + 0.72f));
            paper.Text(row.Name, at, y, Size);
            at += Paper.Measure(row.Name, Size) + 18;
            foreach (var (label, style, _) in columns.Where(column => Value(row, column.Label).Length > 0))
            {
                paper.Sample(style, at, y - (Size * 0.34f), ShortSample, marker: false);
                paper.Text(Value(row, label), at + ShortSample + 10, y, Size, bold: true, colour: style.Hex);
                at += ShortSample + 10 + Paper.Measure(Value(row, label), Size, bold: true) + 24;
            }
        }
    }

    private List<(int Line, float X, CallOut Row)> Items(float width)
    {
        List<(int, float, CallOut)> items = [];
        var (line, x) = (0, 0f);
        foreach (var row in rows)
        {
            var length = Paper.Measure(row.Name, Size) + 18 + columns.Where(column => Value(row, column.Label).Length > 0)
                .Sum(column => ShortSample + 34 + Paper.Measure(Value(row, column.Label), Size, bold: true));
            if (x > 0 && x + length > width)
                (line, x) = (line + 1, 0);
            items.Add((line, x, row));
            x += length + 20;
        }

        return items;
    }

    private static string Value(CallOut row, string label) => row.Values.FirstOrDefault(value => value.Key == label).Value ?? "";
}
