namespace BoardSim.Reports.Figures;

/// <summary>Something that can be drawn and saved. Data in, files out; the same drawing gives the same bytes.</summary>
/// <param name="Title">What it shows, one or two lines.</param>
public abstract record Drawing(string Title)
{
    /// <summary>Line under the title; empty for none.</summary>
    public string Subtitle { get; init; } = "";

    /// <summary>Small print at the foot, e.g. a caution; empty for none.</summary>
    public string Footer { get; init; } = "";

    /// <summary>
    /// Labels in the order in which they are given their looks, before any others; labels that are not drawn may be among them.
    /// Figures of one set that share this list draw the same condition alike.
    /// </summary>
    public IReadOnlyList<KeyValuePair<string, TraceRole>> Styling { get; init; } = [];

    /// <summary>Width in pixels (PNG) or user units (SVG).</summary>
    public static int Width => 1600;

    /// <summary>Height in pixels (PNG) or user units (SVG).</summary>
    public virtual int Height => 900;

    /// <summary>The drawing as a PNG image.</summary>
    /// <param name="scale">Pixels per user unit, 0.25 to 4.</param>
    /// <exception cref="ReportException">The data cannot be drawn; the message says why.</exception>
    public byte[] ToPng(double scale = 1) => Rendering.Png(Width, Height, scale, Paint);

    /// <summary>The drawing as SVG text; labels stay text, so that they can be searched and read aloud.</summary>
    /// <exception cref="ReportException">The data cannot be drawn; the message says why.</exception>
    public string ToSvg() => Rendering.Svg(Width, Height, Title, Paint);

    /// <summary>Writes the drawing as a PNG file.</summary>
    /// <param name="path">File name; its folder must exist.</param>
    /// <exception cref="ReportException">The data cannot be drawn or the file cannot be written.</exception>
    public void SavePng(string path) => Files.Write(path, ToPng());

    /// <summary>Writes the drawing as an SVG file.</summary>
    /// <param name="path">File name; its folder must exist.</param>
    /// <exception cref="ReportException">The data cannot be drawn or the file cannot be written.</exception>
    public void SaveSvg(string path) => Files.Write(path, ToSvg());

    internal abstract void Paint(Paper paper);

    /// <summary>The looks of each label that is drawn.</summary>
    internal IReadOnlyDictionary<string, TraceStyle> Styles(IReadOnlyCollection<(string Label, TraceRole Role)> drawn)
    {
        var all = TraceStyle.Assign(Styling.Select(entry => (entry.Key, entry.Value)).Concat(drawn));
        return all.Where(style => drawn.Any(entry => entry.Label == style.Key)).ToDictionary();
    }

    /// <summary>Writes the small print and returns the height it takes.</summary>
    internal float PaintFooter(Paper paper)
    {
        if (Footer.Length == 0)
            return 10;
        const float size = 21, margin = 30;
        paper.Text(Footer, margin, Height - 16, Paper.Fit(Footer, Width - (2 * margin), size), colour: "#444444");
        return 36;
    }
}
