using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>Lays out a figure: header with title and legend, stacked panels with their axes lined up, footer.</summary>
internal static class FigurePainter
{
    public const float AxisSize = 30;
    public const float TickSize = 28;
    private const float HeadingSize = 29;
    private const float Margin = 30;

    public static void Paint(Figure figure, Paper paper)
    {
        Check(figure);
        var traces = figure.Panels.SelectMany(panel => panel.Traces).ToList();
        var styles = figure.Styles([.. traces.Select(trace => (trace.Label, trace.Role))]);
        var top = Header.Paint(
            paper, figure.Title, figure.Subtitle, Drawing.Width,
            [.. styles.Select(style => (style.Key, style.Value, traces.Any(t => t.Label == style.Key && t.Markers)))]);
        var bottom = figure.Height - figure.PaintFooter(paper) - 98f;

        // Positions never fall, so the ends tell the range; on a logarithmic axis zero and less have no place.
        var x = AxisRange.From(figure.X, traces.SelectMany(trace => figure.X.Logarithmic ? trace.X : [trace.X[0], trace.X[^1]]), vertical: false);
        if (traces.Any(trace => trace.Markers))
            x = x.Widened(0.025);
        var budget = PointBudget(traces.Count, paper.Vector);
        var drafts = figure.Panels.Select(panel => new PanelDraft(panel, x, styles, budget)).ToList();
        var left = Margin + AxisSize + 34 + drafts.Max(draft => draft.TickWidth);
        var right = Drawing.Width - Margin - 24;
        const float gap = 16;
        // Every panel gets the same height for its traces; what stands over them comes on top.
        var heads = drafts.Select(draft => draft.Heading.Length > 0 ? HeadingSize + 17 : 14).ToList();
        var height = (bottom - top - heads.Sum() - (gap * (drafts.Count - 1))) / drafts.Count;
        var strips = drafts.Select(draft => draft.Reserve(new SKRect(left, 0, right, height))).ToList();
        height -= strips.Sum() / drafts.Count;
        for (var k = 0; k < drafts.Count; k++)
        {
            var size = Paper.Fit(drafts[k].Heading, right - left, HeadingSize, bold: true);
            paper.Text(drafts[k].Heading, left, top + heads[k] - 14, size, bold: true);
            top += heads[k] + strips[k];
            drafts[k].Paint(paper, new SKRect(left, top, right, top + height), figure.Notes, first: k == 0, last: k == drafts.Count - 1);
            top += height + gap;
        }

        paper.Text(x.Label, (left + right) / 2, bottom + 86, AxisSize, anchor: Anchor.Centre);
    }

    // A PNG can afford four points in each pixel column; an SVG shares about 18,000 points (some 230 kB) among its traces.
    private static int PointBudget(int traces, bool vector) =>
        vector ? Math.Clamp(18_000 / 4 / Math.Max(1, traces), 120, 1400) : 1400;

    private static void Check(Figure figure)
    {
        if (figure.Panels.Count == 0)
            throw new ReportException($"The figure '{figure.Title}' has no panel; give it at least one.");
        foreach (var panel in figure.Panels)
        {
            if (panel.Traces.Count == 0)
                throw new ReportException($"The panel '{panel.Heading}' of the figure '{figure.Title}' has no trace; give it at least one.");
            foreach (var trace in panel.Traces)
                if (trace.X.Count != trace.Y.Count || trace.X.Count == 0)
                    throw new ReportException(
                        $"The trace '{trace.Label}' of the figure '{figure.Title}' has {trace.X.Count} positions and {trace.Y.Count} values; "
                        + "there must be as many of each, one or more.");
        }
    }
}
