using System.Reflection;
using ScottPlot;
using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>
/// The typeface of every figure: Liberation Sans (SIL Open Font License 1.1), carried inside this assembly, because a drawing
/// library without system fonts leaves every label out and says nothing. Its widths equal those of the common sans-serif
/// faces, so that an SVG opened elsewhere keeps its layout.
/// </summary>
public static class FigureFont
{
    private static readonly Lazy<SKTypeface> RegularFace = new(() => Load("LiberationSans-Regular.ttf"));
    private static readonly Lazy<SKTypeface> BoldFace = new(() => Load("LiberationSans-Bold.ttf"));
    private static readonly Lazy<bool> Registration = new(Register);

    /// <summary>Family name under which the font is known to the plotting library and written into SVG files.</summary>
    public const string Family = "Liberation Sans";

    /// <summary>Families an SVG viewer may fall back on, best first; all but the last share the widths of <see cref="Family"/>.</summary>
    public const string FallbackFamilies = "Liberation Sans, Arial, Helvetica, Arimo, sans-serif";

    /// <summary>Licence text of the font.</summary>
    public static string Licence
    {
        get
        {
            using var stream = Open("LICENSE-LiberationSans.txt");
            using var reader = new StreamReader(stream);
            return reader.ReadToEnd();
        }
    }

    /// <summary>True when the font has a glyph for every character of the text.</summary>
    /// <param name="text">The text to look at.</param>
    public static bool Covers(string text) => RegularFace.Value.ContainsGlyphs(text) && BoldFace.Value.ContainsGlyphs(text);

    internal static SKTypeface Regular => RegularFace.Value;

    internal static SKTypeface Bold => BoldFace.Value;

    /// <summary>Makes the font known to the plotting library; safe to call often and from any thread.</summary>
    internal static void EnsureRegistered() => _ = Registration.Value;

    private static bool Register()
    {
        ScottPlot.Fonts.FontResolvers.Insert(0, new Resolver());
        return true;
    }

    private static SKTypeface Load(string name)
    {
        using var stream = Open(name);
        return SKTypeface.FromStream(stream)
            ?? throw new ReportException($"The embedded font {name} cannot be read; the installed copy of BoardSim.Reports is damaged.");
    }

    private static Stream Open(string name) =>
        Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
        ?? throw new ReportException($"The embedded resource {name} is missing; the installed copy of BoardSim.Reports is damaged.");

    private sealed class Resolver : IFontResolver
    {
        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            CreateTypeface(fontName, weight >= FontWeight.SemiBold, slant != FontSlant.Upright);

        // The library owns and may dispose what a resolver returns, so each request gets its own instance.
        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) =>
            fontName == Family ? Load(bold ? "LiberationSans-Bold.ttf" : "LiberationSans-Regular.ttf") : null;
    }
}
