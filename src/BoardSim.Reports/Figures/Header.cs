using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>Title, subtitle and legend at the top of a figure.</summary>
internal static class Header
{
    private const float Margin = 30;
    private const float TitleSize = 44;
    private const float LegendSize = 31;
    private const float SampleLength = 104;

    /// <summary>Draws the header and returns where the rest may start.</summary>
    public static float Paint(Paper paper, string title, string subtitle, float width, IReadOnlyList<(string Label, TraceStyle Style, bool Marker)> legend, bool bars = false)
    {
        var y = 14f;
        var wide = width - (2 * Margin);
        var size = Paper.Wrap(title, wide, TitleSize, bold: true).Count > 2 ? TitleSize * 0.8f : TitleSize;
        foreach (var line in Paper.Wrap(title, wide, size, bold: true))
        {
            y += size * 1.12f;
            paper.Text(line, Margin, y - (size * 0.16f), size, bold: true);
        }

        foreach (var line in Paper.Wrap(subtitle, wide, LegendSize - 2))
        {
            y += LegendSize * 1.25f;
            paper.Text(line, Margin, y - 6, LegendSize - 2, colour: "#333333");
        }

        return Legend(paper, y + 12, width, legend, bars ? 56 : SampleLength, bars) + 10;
    }

    private static float Legend(Paper paper, float y, float width, IReadOnlyList<(string Label, TraceStyle Style, bool Marker)> entries, float sample, bool bars)
    {
        var x = Margin;
        y += LegendSize;
        foreach (var (label, style, marker) in entries)
        {
            var length = sample + 14 + Paper.Measure(label, LegendSize, bold: true) + 46;
            if (x > Margin && x + length - 46 > width - Margin)
            {
                x = Margin;
                y += LegendSize * 1.35f;
            }

            if (bars)
                paper.Bar(style, SKRect.Create(x, y - 26, sample, 30));
            else
                paper.Sample(style, x, y - (LegendSize * 0.34f), sample, marker);
            // The label wears the trace's colour as well, for whoever looks at the colour first.
            paper.Text(label, x + sample + 14, y, Paper.Fit(label, width - Margin - sample - 14 - x, LegendSize, bold: true), bold: true, colour: style.Hex);
            x += length;
        }

        return y + 10;
    }
}
