using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>Lays out a bar figure: header, groups with their scales, names below.</summary>
internal static class BarPainter
{
    private const float Margin = 30;
    private const float NameSize = 28;
    private const float ValueSize = 30;

    public static void Paint(BarFigure figure, Paper paper)
    {
        if (figure.Groups.Count == 0 || figure.Groups.Any(group => group.Bars.Count == 0))
            throw new ReportException($"The bar figure '{figure.Title}' has a group without bars, or no group; give it at least one with one bar.");
        var styles = figure.Styles([.. figure.Groups.SelectMany(group => group.Bars).Select(bar => (bar.Label, bar.Role))]);
        var top = Header.Paint(
            paper, figure.Title, figure.Subtitle, Drawing.Width, [.. styles.Select(style => (style.Key, style.Value, false))], bars: true) + 20;
        var perRow = (figure.Groups.Count + figure.Rows - 1) / figure.Rows;
        var width = (Drawing.Width - (2 * Margin)) / perRow;
        var height = (figure.Height - figure.PaintFooter(paper) - 14 - top) / figure.Rows;
        for (var row = 0; row < figure.Rows; row++)
            Row(paper, figure, [.. figure.Groups.Skip(row * perRow).Take(perRow)], styles, new SKRect(Margin, top + (row * height), Margin + width, top + ((row + 1) * height)));
    }

    private static void Row(Paper paper, BarFigure figure, IReadOnlyList<BarGroup> groups, IReadOnlyDictionary<string, TraceStyle> styles, SKRect first)
    {
        var names = groups.Select(group => Paper.Wrap(group.Name, first.Width - 50, NameSize, bold: true)).ToList();
        var bottom = first.Bottom - (names.Max(name => name.Count) * NameSize * 1.25f);
        for (var k = 0; k < groups.Count; k++)
        {
            var left = first.Left + (k * first.Width);
            Group(paper, groups[k], Range(figure, groups[k]), styles, new SKRect(left + 12, first.Top, left + first.Width - 12, bottom));
            for (var line = 0; line < names[k].Count; line++)
                paper.Text(names[k][line], left + (first.Width / 2), bottom + (NameSize * 1.25f * (line + 1)), NameSize, bold: true, anchor: Anchor.Centre);
        }
    }

    /// <summary>The scale of a group: that of all groups of its unit, unless one of them would be too small to see.</summary>
    private static AxisRange Range(BarFigure figure, BarGroup group)
    {
        var alike = figure.Groups.Where(other => other.Unit == group.Unit).ToList();
        var heights = alike.Select(Tallest).ToList();
        var values = (heights.Max() <= 20 * heights.Min() ? alike : [group]).SelectMany(other => other.Bars).Select(bar => bar.Value).Append(0).Where(double.IsFinite).ToList();
        var (low, high) = (values.Min(), values.Max());
        // A bar tells by its length, so zero is always on the scale; the margin holds the number on top.
        var span = high - low == 0 ? 1 : high - low;
        return new AxisRange(low < 0 ? low - (0.14 * span) : 0, high > 0 || low == 0 ? high + (0.14 * span) : 0, false, group.Unit, group.Name, false);
    }

    private static double Tallest(BarGroup group) => group.Bars.Select(bar => Math.Abs(bar.Value)).Where(double.IsFinite).DefaultIfEmpty(0).Max();

    private static void Group(Paper paper, BarGroup group, AxisRange range, IReadOnlyDictionary<string, TraceStyle> styles, SKRect area)
    {
        var ticks = Ticks.For(range, 5);
        var symbol = range.Scale.Symbol;
        var left = area.Left + 20 + ticks.Major.Max(tick => Paper.Measure(tick.Text, FigurePainter.TickSize));
        area.Top += 44;
        area.Bottom -= 8;
        paper.Text(symbol.Length == 0 ? "" : $"({symbol})", left - 8, area.Top - 16, FigurePainter.TickSize, anchor: Anchor.Right);
        foreach (var (value, text) in ticks.Major)
        {
            paper.Line(left - 8, Y(value), area.Right, Y(value), "#D9D9D9", 1.5f);
            paper.Text(text, left - 14, Y(value) + 10, FigurePainter.TickSize, anchor: Anchor.Right);
        }

        paper.Line(left, area.Top, left, area.Bottom, Paper.Ink, 2.5f);
        paper.Line(left, Y(0), area.Right, Y(0), Paper.Ink, 2.5f);
        var slot = (area.Right - left) / group.Bars.Count;
        for (var k = 0; k < group.Bars.Count; k++)
        {
            var bar = group.Bars[k];
            var middle = left + (slot * (k + 0.5f));
            var style = styles[bar.Label];
            var finite = double.IsFinite(bar.Value);
            if (finite && bar.Value != 0)
            {
                var half = Math.Min(slot * 0.34f, 110);
                paper.Bar(style, new SKRect(middle - half, Math.Min(Y(bar.Value), Y(0)), middle + half, Math.Max(Y(bar.Value), Y(0))));
            }

            var size = Paper.Fit(bar.Text, slot - 8, ValueSize, bold: true);
            var at = finite && bar.Value < 0 ? Y(bar.Value) + ValueSize : Y(finite ? bar.Value : 0) - 12;
            paper.Text(bar.Text, middle, at, size, bold: true, anchor: Anchor.Centre, colour: style.Hex);
        }

        float Y(double value) => area.Bottom - ((float)range.Position(value) * area.Height);
    }
}
