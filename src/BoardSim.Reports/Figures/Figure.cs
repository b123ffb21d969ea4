namespace BoardSim.Reports.Figures;

/// <summary>
/// A figure for the screen or the slide: stacked panels over one horizontal axis, drawn so that it reads from the last row.
/// Data in, files out; the same figure gives the same bytes.
/// </summary>
/// <param name="Title">What the figure shows, one or two lines.</param>
/// <param name="X">The horizontal axis of all panels.</param>
/// <param name="Panels">The panels from top to bottom, one or more.</param>
public sealed partial record Figure(string Title, FigureAxis X, IReadOnlyList<FigurePanel> Panels)
{
    /// <summary>Line under the title, e.g. the test point with its reference; empty for none.</summary>
    public string Subtitle { get; init; } = "";

    /// <summary>Small print at the foot, e.g. a caution; empty for none.</summary>
    public string Footer { get; init; } = "";

    /// <summary>Remarks at a position on the horizontal axis.</summary>
    public IReadOnlyList<FigureNote> Notes { get; init; } = [];

    /// <summary>Width of the drawing in pixels (PNG) or user units (SVG).</summary>
    public static int Width => 1600;

    /// <summary>Height of the drawing in pixels: 900 for one or two panels (16:9), more for further ones.</summary>
    public int Height => 900 + (270 * Math.Max(0, Panels.Count - 2));

    /// <summary>The figure as a PNG image.</summary>
    /// <param name="scale">Pixels per user unit, 0.25 to 4.</param>
    /// <exception cref="ReportException">The data cannot be drawn; the message says why.</exception>
    public byte[] ToPng(double scale = 1) => Rendering.Png(Width, Height, scale, paper => FigurePainter.Paint(this, paper));

    /// <summary>The figure as SVG text; labels stay text, so that they can be searched and read aloud.</summary>
    /// <exception cref="ReportException">The data cannot be drawn; the message says why.</exception>
    public string ToSvg() => Rendering.Svg(Width, Height, Title, paper => FigurePainter.Paint(this, paper));

    /// <summary>Writes the figure as a PNG file.</summary>
    /// <param name="path">File name; its folder must exist.</param>
    /// <exception cref="ReportException">The data cannot be drawn or the file cannot be written.</exception>
    public void SavePng(string path) => Files.Write(path, ToPng());

    /// <summary>Writes the figure as an SVG file.</summary>
    /// <param name="path">File name; its folder must exist.</param>
    /// <exception cref="ReportException">The data cannot be drawn or the file cannot be written.</exception>
    public void SaveSvg(string path) => Files.Write(path, ToSvg());
}
