using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>Where text is anchored.</summary>
internal enum Anchor
{
    Left,
    Centre,
    Right,
}

/// <summary>
/// The sheet a figure is drawn on. In a vector drawing dashes are noted by colour and added to the file afterwards, because the
/// library would cut every dash out as a shape of its own and the file would grow tenfold.
/// </summary>
internal sealed class Paper(SKCanvas canvas, bool vector)
{
    public const string Ink = "#1A1A1A";

    public SKCanvas Canvas => canvas;

    /// <summary>True for SVG.</summary>
    public bool Vector => vector;

    /// <summary>Dash patterns by line colour, for a vector drawing.</summary>
    public Dictionary<string, float[]> Dashes { get; } = [];

    public static float Measure(string text, float size, bool bold = false)
    {
        using var font = Font(size, bold);
        return font.MeasureText(text);
    }

    /// <summary>The largest size up to a wish at which a text fits a width.</summary>
    public static float Fit(string text, float width, float wish, bool bold = false) =>
        wish * Math.Min(1, width / Math.Max(1, Measure(text, wish, bold)));

    public void Text(string text, float x, float y, float size, bool bold = false, Anchor anchor = Anchor.Left, string colour = Ink, float rotation = 0)
    {
        if (text.Length == 0)
            return;
        if (!FigureFont.Covers(text))
            throw new ReportException(
                $"The text '{text}' has characters the figures' font cannot draw ({string.Join(' ', Missing(text))}); "
                + "use Latin, Greek or Cyrillic letters and common signs.");
        using var font = Font(size, bold);
        using var paint = new SKPaint { Color = SKColor.Parse(colour), IsAntialias = true };
        var width = font.MeasureText(text);
        var shift = anchor switch { Anchor.Left => 0, Anchor.Centre => -width / 2, _ => -width };
        canvas.Save();
        canvas.Translate(x, y);
        canvas.RotateDegrees(rotation);
        canvas.DrawText(text, shift, 0, font, paint);
        canvas.Restore();
    }

    public void Line(float x0, float y0, float x1, float y1, string colour, float width, params float[] dash)
    {
        using var paint = new SKPaint
        {
            Color = SKColor.Parse(colour),
            StrokeWidth = width,
            IsStroke = true,
            IsAntialias = true,
        };
        if (dash.Length > 0 && vector)
            Dashes[colour] = dash;
        using var effect = dash.Length > 0 && !vector ? SKPathEffect.CreateDash(dash, 0) : null;
        paint.PathEffect = effect;
        using var path = new SKPath();
        path.MoveTo(x0, y0);
        path.LineTo(x1, y1);
        canvas.DrawPath(path, paint);
    }

    public void Box(SKRect rect, string fill, string? border = null, float borderWidth = 2, byte opacity = 255)
    {
        using var paint = new SKPaint { Color = SKColor.Parse(fill).WithAlpha(opacity), IsAntialias = true };
        canvas.DrawRect(rect, paint);
        if (border is null)
            return;
        using var edge = new SKPaint { Color = SKColor.Parse(border), IsStroke = true, StrokeWidth = borderWidth, IsAntialias = true };
        canvas.DrawRect(rect, edge);
    }

    /// <summary>A short piece of a trace, as legends show it.</summary>
    public void Sample(TraceStyle style, float x, float y, float length, bool marker)
    {
        // Whole dashes only: a cut one at the end would make two styles look alike.
        var period = style.Dash.Sum();
        var whole = period == 0 ? length : (float)Math.Max(1, Math.Floor((length + style.Dash[^1]) / period)) * period - style.Dash[^1];
        Line(x + ((length - whole) / 2), y, x + ((length + whole) / 2), y, style.Hex, style.Width, style.Dash);
        if (!marker)
            return;
        using var paint = ScottPlot.Paint.NewDisposablePaint();
        new ScottPlot.MarkerStyle(style.Marker, style.MarkerSize, style.MarkerColor) { LineWidth = 3, LineColor = style.MarkerColor }
            .Render(canvas, new ScottPlot.Pixel(x + (length / 2), y), paint);
    }

    /// <summary>A filled bar in a trace's colour, with stripes of its own so that colour is not all that tells bars apart.</summary>
    public void Bar(TraceStyle style, SKRect rect)
    {
        Box(rect, style.Hex);
        if (style.Stripes != 0)
        {
            canvas.Save();
            canvas.ClipRect(rect);
            var lean = style.Stripes switch { 1 => 1f, 2 => -1f, _ => 0f };
            const float step = 15;
            for (var at = -rect.Height; at < rect.Width + rect.Height && style.Stripes != 3; at += step)
                Line(rect.Left + at, rect.Bottom, rect.Left + at + (lean * rect.Height), rect.Top, "#FFFFFE", 4);
            for (var at = 6f; at < rect.Height && (style.Stripes is 3 or 5); at += step)
                Line(rect.Left, rect.Bottom - at, rect.Right, rect.Bottom - at, "#FFFFFE", 4);
            canvas.Restore();
        }

        Box(rect, "#FFFFFF", style.Hex, 3, opacity: 0);
    }

    /// <summary>Breaks text into lines no wider than given; a single word that is wider stands alone.</summary>
    public static IReadOnlyList<string> Wrap(string text, float width, float size, bool bold = false)
    {
        List<string> lines = [];
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && Measure(longer, size, bold) > width)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }

        if (line.Length > 0)
            lines.Add(line);
        return lines;
    }

    private static SKFont Font(float size, bool bold) => new(bold ? FigureFont.Bold : FigureFont.Regular, size)
    {
        Subpixel = true,
        Edging = SKFontEdging.Antialias,
        Hinting = SKFontHinting.None,
    };

    private static IEnumerable<string> Missing(string text) => text.EnumerateRunes()
        .Select(rune => rune.ToString()).Where(rune => !FigureFont.Covers(rune)).Distinct();
}
