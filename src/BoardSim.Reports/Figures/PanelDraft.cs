using ScottPlot;
using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>One panel on its way to the sheet: thinned traces, ranges, and room for what is written beside the traces.</summary>
internal sealed class PanelDraft
{
    private const float StripGap = 6;

    private readonly AxisRange x;
    private readonly AxisRange tight;
    private readonly List<(FigureTrace Trace, TraceStyle Style, double[] X, double[] Y)> lines = [];
    private readonly Dictionary<FigureTrace, Envelope> bands = [];
    private readonly CallOutTable? table;
    private float strip;

    public PanelDraft(FigurePanel panel, AxisRange x, IReadOnlyDictionary<string, TraceStyle> styles, int columns)
    {
        (Panel, this.x) = (panel, x);
        foreach (var trace in panel.Traces)
        {
            var thin = x.Logarithmic ? Inside(trace) : Decimation.Thin(trace.X, trace.Y, x.Low, x.High, columns);
            lines.Add((trace, styles[trace.Label], thin.X, thin.Y));
        }

        // Thinned traces keep their extremes, so they tell the range as well as all points do.
        tight = AxisRange.From(
            panel.Y, lines.SelectMany(line => line.Y.Where((_, k) => line.X[k] >= x.Low && line.X[k] <= x.High)).Concat(panel.Limits.Select(limit => limit.Value)),
            vertical: true);
        if (!x.Logarithmic)
            Envelop();
        // Room for the label of a limit that lies beyond all traces.
        foreach (var limit in panel.Limits)
            if (!tight.Logarithmic && panel.Y is { Minimum: null, Maximum: null })
                tight = tight with
                {
                    Low = Math.Min(tight.Low, limit.Value - (0.14 * (tight.High - tight.Low))),
                    High = Math.Max(tight.High, limit.Value + (0.14 * (tight.High - tight.Low))),
                };
        table = panel.CallOuts.Count > 0 ? new CallOutTable(panel.CallOuts, styles) : null;
    }

    public FigurePanel Panel { get; }

    /// <summary>What stands over the panel.</summary>
    public string Heading => bands.Count == 0 ? Panel.Heading
        : Panel.Heading.Length == 0 ? "Bands: from lowest to highest of many cycles" : Panel.Heading + " (bands: lowest to highest of many cycles)";

    /// <summary>Room for the numbers of the vertical axis, with some to spare should the range grow.</summary>
    public float TickWidth
    {
        get
        {
            var roomy = tight.Logarithmic ? tight : tight with { High = tight.High + (0.5 * (tight.High - tight.Low)) };
            return new[] { tight, roomy }.SelectMany(range => Ticks.For(range, 8).Major.Concat(Ticks.For(range, 4).Major))
                .Select(tick => Paper.Measure(tick.Text, FigurePainter.TickSize)).Append(20).Max();
        }
    }

    /// <summary>Decides whether the call-outs find a free corner in an area of that size; if not, returns the height that they take above it.</summary>
    public float Reserve(SKRect area) =>
        strip = table is null || Corner(area) is not null ? 0 : table.StripHeight(area.Width) + StripGap;

    private SKRect? Corner(SKRect area) => table is null ? null
        : Occupy(area, tight).Place(table.Width, table.Height, new SKPoint(area.Right - (table.Width / 2), area.Top));

    public void Paint(Paper paper, SKRect area, IReadOnlyList<FigureNote> notes, bool first, bool last)
    {
        var range = tight;
        var corner = strip == 0 ? Corner(area) : null;
        if (table is not null && corner is null)
        {
            // The room for it was set aside above the area, unless the area has shrunk since.
            var height = table.StripHeight(area.Width);
            if (strip == 0)
                area.Top += height + StripGap;
            table.PaintStrip(paper, new SKRect(area.Left, area.Top - StripGap - height, area.Right, area.Top - StripGap));
        }

        List<(SKRect Place, Action<SKRect> Draw)> boxes = [];
        var wishes = Wishes(paper, first ? notes : []);
        // First near the wish, then anywhere; after that the range grows from the top by a free band as high as what found no room.
        for (var attempt = 0; ; attempt++)
        {
            boxes.Clear();
            var placer = Occupy(area, range);
            if (corner is { } table)
                placer.Mark(SKRect.Inflate(table, 8, 8));
            var missing = 0f;
            foreach (var wish in wishes)
            {
                var target = wish.Wish(area, range);
                if (placer.Place(wish.Width, wish.Height, target, attempt == 0 ? wish.Farthest : float.PositiveInfinity) is { } place)
                    boxes.Add((place, wish.Draw));
                else
                    missing = Math.Max(missing, wish.Height);
            }

            if (missing == 0 || attempt == 8)
                break;
            if (attempt >= 1)
                range = Grown(range, Math.Min(0.6f, (missing + 30) / area.Height));
        }

        Plot(paper, area, range, last);
        foreach (var note in notes.Where(note => note.At is { } at && at >= x.Low && at <= x.High))
        {
            var at = area.Left + ((float)x.Position(note.At!.Value) * area.Width);
            paper.Line(at, area.Top, at, area.Bottom, "#5A5A5A", 2.5f, 3, 5);
        }

        foreach (var (place, draw) in boxes)
            draw(place);
        if (corner is { } free)
            table!.Paint(paper, free);
        var label = range.Label;
        paper.Text(label, 30 + FigurePainter.AxisSize, area.MidY, Paper.Fit(label, area.Height + 30, FigurePainter.AxisSize), anchor: Anchor.Centre, rotation: -90);
    }

    private void Envelop()
    {
        foreach (var trace in Panel.Traces)
            if (Envelope.Suits(trace.X, trace.Y, x.Low, x.High, tight.High - tight.Low)
                && Envelope.Of(trace.X, trace.Y, x.Low, x.High, 350) is { } band && band.IsCalm(tight.High - tight.Low))
                bands[trace] = band;
    }

    // One number for every line and a half of type, but not so many that the eye has to count.
    private static int YTicks(float height) => Math.Clamp((int)(height / 42), 3, 8);

    private static AxisRange Grown(AxisRange range, double share) => range.Logarithmic
        ? range with { High = range.Low * Math.Pow(range.High / range.Low, 1 / (1 - share)) }
        : range with { High = range.Low + ((range.High - range.Low) / (1 - share)) };

    private static (double[] X, double[] Y) Inside(FigureTrace trace)
    {
        var kept = Enumerable.Range(0, trace.X.Count).Where(k => trace.X[k] > 0).ToArray();
        return ([.. kept.Select(k => trace.X[k])], [.. kept.Select(k => trace.Y[k])]);
    }

    private List<(float Width, float Height, float Farthest, Func<SKRect, AxisRange, SKPoint> Wish, Action<SKRect> Draw)> Wishes(Paper paper, IReadOnlyList<FigureNote> notes)
    {
        const float size = 27;
        List<(float, float, float, Func<SKRect, AxisRange, SKPoint>, Action<SKRect>)> wishes = [];
        foreach (var note in notes)
        {
            var wrapped = Paper.Wrap(note.Text, 460, size);
            var width = wrapped.Max(line => Paper.Measure(line, size)) + 20;
            wishes.Add((width, (wrapped.Count * size * 1.25f) + 12, float.PositiveInfinity,
                (area, _) => note.At is { } at ? new SKPoint(area.Left + ((float)x.Position(at) * area.Width) + (width / 2) + 10, area.Top) : new SKPoint(area.Left, area.Top),
                place => Note(paper, wrapped, place, size)));
        }

        foreach (var limit in Panel.Limits)
            wishes.Add((Paper.Measure(limit.Label, size) + 12, size * 1.3f, size * 1.6f,
                (area, range) => new SKPoint(area.Right, area.Bottom - ((float)range.Position(limit.Value) * area.Height) - (size * 0.6f)),
                place => Note(paper, [limit.Label], place, size)));
        return wishes;
    }

    private static void Note(Paper paper, IReadOnlyList<string> lines, SKRect place, float size)
    {
        paper.Box(place, "#FFFFFF", opacity: 235);
        for (var k = 0; k < lines.Count; k++)
            paper.Text(lines[k], place.Left + 8, place.Top + (size * (1.05f + (1.25f * k))), size, colour: "#333333");
    }

    private Placer Occupy(SKRect area, AxisRange range)
    {
        var placer = new Placer(area);
        foreach (var (trace, style, xs, ys) in lines)
        {
            if (bands.TryGetValue(trace, out var band))
                for (var k = 0; k < band.X.Length; k++)
                    placer.Line(Px(band.X[k]), Py(band.Low[k]), Px(band.X[k]), Py(band.High[k]), 9);
            for (var k = 1; k < xs.Length; k++)
                if (double.IsFinite(ys[k - 1]) && double.IsFinite(ys[k]))
                    placer.Line(Px(xs[k - 1]), Py(ys[k - 1]), Px(xs[k]), Py(ys[k]), style.Width + (trace.Markers ? 12 : 5));
        }

        foreach (var limit in Panel.Limits)
            placer.Line(area.Left, Py(limit.Value), area.Right, Py(limit.Value), 3);
        return placer;

        float Px(double value) => area.Left + ((float)x.Position(value) * area.Width);
        float Py(double value) => area.Bottom - ((float)Math.Clamp(range.Position(value), -1, 2) * area.Height);
    }

    private void Plot(Paper paper, SKRect area, AxisRange y, bool last)
    {
        using var plot = new Plot();
        plot.Font.Set(FigureFont.Family);
        // Panels share one sheet: clearing it would wipe what is drawn already.
        plot.RenderManager.ClearCanvasBeforeEachRender = false;
        plot.FigureBackground.Color = Colors.Transparent;
        plot.DataBackground.Color = Colors.White;
        Style(plot.Axes.Bottom, Ticks.For(x, 9), x, showText: last);
        Style(plot.Axes.Left, Ticks.For(y, YTicks(area.Height)), y, showText: true);
        foreach (var axis in (IAxis[])[plot.Axes.Top, plot.Axes.Right])
        {
            axis.FrameLineStyle.Width = 2;
            axis.FrameLineStyle.Color = Color.FromHex("#8A8A8A");
        }

        plot.Grid.MajorLineColor = Color.FromHex("#D9D9D9");
        plot.Grid.MajorLineWidth = 1.5f;
        plot.Axes.SetLimits(On(x, x.Low), On(x, x.High), On(y, y.Low), On(y, y.High));
        const float left = 300;
        plot.Layout.Fixed(new PixelPadding(left, 100, 100, 30));
        var sheet = new PixelRect(area.Left - left, area.Right + 100, area.Bottom + 100, area.Top - 30);
        Prime(plot, sheet);
        foreach (var limit in Panel.Limits)
        {
            if (paper.Vector)
                paper.Dashes["#4D4D4D"] = [18, 6];
            var line = plot.Add.HorizontalLine(On(y, limit.Value), 3, Color.FromHex("#4D4D4D"), paper.Vector ? LinePattern.Solid : new LinePattern([18, 6], 0, "limit"));
            line.EnableAutoscale = false;
        }

        // Healthy last would hide a fault that differs little; the wide dashes on top let the solid line shine through.
        foreach (var (trace, style, xs, ys) in lines.OrderBy(line => line.Style == TraceStyle.Healthy ? 0 : 1))
        {
            if (bands.TryGetValue(trace, out var band))
            {
                Band(plot, paper, trace, style, band, y);
                continue;
            }

            foreach (var (from, count) in Pieces(ys))
                Trace(plot, paper, trace, style, xs[from..(from + count)], ys[from..(from + count)], y);
        }

        plot.Render(paper.Canvas, sheet);
    }

    // A plot draws itself twice the first time it is asked to, one over the other; the first time is spent on a scrap of paper.
    private static void Prime(Plot plot, PixelRect sheet)
    {
        using var scrap = new SKBitmap(1, 1);
        using var canvas = new SKCanvas(scrap);
        plot.Render(canvas, sheet);
    }

    private void Band(Plot plot, Paper paper, FigureTrace trace, TraceStyle style, Envelope band, AxisRange y)
    {
        var fill = plot.Add.FillY(
            [.. band.X.Select(value => On(x, value))], [.. band.Low.Select(value => On(y, value))], [.. band.High.Select(value => On(y, value))]);
        fill.FillColor = style.Color.WithAlpha(0.28);
        fill.LineWidth = 0;
        fill.MarkerSize = 0;
        Trace(plot, paper, trace, style, band.X, band.Low, y);
        Trace(plot, paper, trace, style, band.X, band.High, y);
    }

    private void Trace(Plot plot, Paper paper, FigureTrace trace, TraceStyle style, double[] xs, double[] ys, AxisRange y)
    {
        if (paper.Vector && style.Dash.Length > 0)
            paper.Dashes[style.Hex] = style.Dash;
        var scatter = plot.Add.Scatter(
            xs.Select(value => On(x, value)).ToArray(), ys.Select(value => y.Logarithmic && value <= 0 ? On(y, y.Low) - 10 : On(y, value)).ToArray());
        scatter.LineWidth = style.Width;
        scatter.LineColor = style.Color;
        scatter.LinePattern = paper.Vector ? LinePattern.Solid : style.Pattern;
        scatter.MarkerSize = trace.Markers || xs.Length == 1 ? style.MarkerSize : 0;
        scatter.MarkerShape = style.Marker;
        scatter.MarkerFillColor = style.MarkerColor;
        scatter.MarkerLineColor = style.MarkerColor;
        scatter.MarkerLineWidth = 3;
    }

    private static void Style(IAxis axis, Ticks ticks, AxisRange range, bool showText)
    {
        axis.TickGenerator = new ScottPlot.TickGenerators.NumericManual(
            [.. ticks.Major.Select(tick => new Tick(On(range, tick.Value), showText ? tick.Text : "", true)),
             .. ticks.Minor.Select(value => new Tick(On(range, value), "", false))])
        { MaxTickCount = 1000 };
        axis.TickLabelStyle.FontName = FigureFont.Family;
        axis.TickLabelStyle.FontSize = FigurePainter.TickSize;
        axis.TickLabelStyle.ForeColor = Color.FromHex(Paper.Ink);
        axis.MajorTickStyle.Length = 9;
        axis.MajorTickStyle.Width = 2.5f;
        axis.MinorTickStyle.Length = 5;
        axis.MinorTickStyle.Width = 1.5f;
        axis.FrameLineStyle.Width = 2.5f;
        axis.FrameLineStyle.Color = Color.FromHex(Paper.Ink);
    }

    /// <summary>Where a value lies on the plot's own axis: in printed units near zero, or in decades.</summary>
    private static double On(AxisRange range, double value) =>
        range.Logarithmic ? Math.Log10(value) : (value - range.Shift) / range.Scale.Factor;

    private static IEnumerable<(int From, int Count)> Pieces(double[] values)
    {
        for (var k = 0; k < values.Length;)
        {
            if (!double.IsFinite(values[k]))
            {
                k++;
                continue;
            }

            var end = k;
            while (end < values.Length && double.IsFinite(values[end]))
                end++;
            yield return (k, end - k);
            k = end;
        }
    }
}
