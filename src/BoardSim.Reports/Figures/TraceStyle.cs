using ScottPlot;

namespace BoardSim.Reports.Figures;

/// <summary>
/// The looks of one trace. Colours differ in lightness as well as hue, and every style has its own dash, width and marker, so
/// that a grey photocopy and a colour-blind viewer still tell the traces apart.
/// </summary>
internal sealed record TraceStyle(string Hex, float Width, float[] Dash, MarkerShape Marker, float MarkerSize, int Stripes)
{
    /// <summary>Dark blue, solid: the board as it should be.</summary>
    public static readonly TraceStyle Healthy = new("#0B3C7D", 4.5f, [], MarkerShape.FilledCircle, 15, 0);

    // Butt ends: a round cap would close the gaps. Vermillion comes first; the rest keep clear of blue.
    private static readonly TraceStyle[] Others =
    [
        new("#E8590C", 6.5f, [24, 10], MarkerShape.FilledSquare, 17, 1),
        new("#117A4B", 5.5f, [6, 7], MarkerShape.FilledTriangleUp, 19, 2),
        new("#8E2A6B", 5f, [24, 7, 5, 7], MarkerShape.FilledDiamond, 19, 3),
        new("#B07C00", 7.5f, [48, 8], MarkerShape.OpenSquare, 16, 4),
        new("#222222", 4f, [14, 6, 4, 6, 4, 6], MarkerShape.Cross, 17, 5),
        new("#3A9BD9", 6f, [3, 4], MarkerShape.OpenCircle, 16, 1),
        new("#D1477A", 4f, [12, 5], MarkerShape.Eks, 17, 2),
    ];

    /// <summary>How many traces one figure can tell apart.</summary>
    public static int Capacity => Others.Length + 1;

    public Color Color => Color.FromHex(Hex);

    // A shade off the line's own colour: an SVG finds its dashed lines by colour, and an outline must not be dashed with them.
    public Color MarkerColor => new(Color.R, Color.G, (byte)(Color.B ^ 1));

    public LinePattern Pattern => Dash.Length == 0 ? LinePattern.Solid : new LinePattern(Dash, 0, Hex);

    /// <summary>Gives each distinct label its style, in order of first appearance.</summary>
    public static IReadOnlyDictionary<string, TraceStyle> Assign(IEnumerable<(string Label, TraceRole Role)> traces)
    {
        var styles = new Dictionary<string, TraceStyle>();
        var next = 0;
        foreach (var trace in traces)
        {
            if (styles.ContainsKey(trace.Label))
                continue;
            if (trace.Role == TraceRole.Healthy && !styles.ContainsValue(Healthy))
                styles[trace.Label] = Healthy;
            else if (next < Others.Length)
                styles[trace.Label] = Others[next++];
            else
                throw new ReportException(
                    $"A figure can tell {Capacity} traces apart without relying on colour, and '{trace.Label}' is one too many; "
                    + "draw fewer conditions, or a sweep.");
        }

        return styles;
    }
}
