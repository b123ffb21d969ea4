using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace BoardSim.Reports.Figures;

/// <summary>
/// Makes the drawing library's SVG fit to hand on: scalable, small, with dashes as dashes, and with text that keeps its width
/// where the font is missing.
/// </summary>
internal static partial class SvgTidy
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static string Tidy(byte[] raw, int width, int height, string title, IReadOnlyDictionary<string, float[]> dashes)
    {
        using var stream = new MemoryStream(raw);
        var root = XDocument.Load(stream).Root!;
        root.SetAttributeValue("viewBox", FormattableString.Invariant($"0 0 {width} {height}"));
        root.SetAttributeValue("role", "img");
        root.Attribute(XNamespace.Xmlns + "xlink")?.Remove();
        root.AddFirst(new XElement(Svg + "title", title));
        var byColour = dashes.ToDictionary(d => d.Key.ToUpperInvariant(), d => string.Join(' ', d.Value.Select(v => v.ToString("0.#", CultureInfo.InvariantCulture))));
        foreach (var element in root.Descendants())
        {
            if (element.Name == Svg + "text")
                TidyText(element);
            if (element.Attribute("d") is { } path)
                path.Value = Decimal().Replace(path.Value, Shorten);
            if (element.Attribute("stroke") is { } stroke && byColour.TryGetValue(stroke.Value.ToUpperInvariant(), out var dash))
                element.SetAttributeValue("stroke-dasharray", dash);
            if (element.Attribute("stroke") is not null)
                element.SetAttributeValue("stroke-linejoin", "round");
        }

        Renumber(root);
        return root.ToString(SaveOptions.None).Replace("\r\n", "\n", StringComparison.Ordinal) + "\n";
    }

    // The library counts its clip paths from the start of the process; a file must not depend on what was drawn before it.
    private static void Renumber(XElement root)
    {
        var names = root.Descendants().Select(element => element.Attribute("id")).OfType<XAttribute>().Select((id, k) => (id, k)).ToDictionary(pair => pair.id.Value, pair => $"c{pair.k}");
        foreach (var attribute in root.Descendants().SelectMany(element => element.Attributes()))
            if (attribute.Name == "id")
                attribute.Value = names[attribute.Value];
            else if (attribute.Value.StartsWith("url(#", StringComparison.Ordinal))
                attribute.Value = $"url(#{names[attribute.Value[5..^1]]})";
    }

    // The library places every letter by itself, which tears words apart in another font. One start and one length instead let
    // a viewer lay the word out in its own font and still end where it should.
    private static void TidyText(XElement text)
    {
        text.Value = text.Value.Trim();
        foreach (var name in (string[])["x", "y"])
            if (text.Attribute(name) is { } list)
                list.Value = Decimal().Replace(list.Value.Split(',')[0].Trim(), Shorten);
        if (text.Attribute("transform") is { } transform)
            transform.Value = Decimal().Replace(transform.Value, ShortenFinely);
        var size = float.Parse(text.Attribute("font-size")!.Value, CultureInfo.InvariantCulture);
        var bold = text.Attribute("font-weight") is not null;
        text.SetAttributeValue("font-family", FigureFont.FallbackFamilies);
        text.SetAttributeValue("textLength", Paper.Measure(text.Value, size, bold).ToString("0.#", CultureInfo.InvariantCulture));
        text.SetAttributeValue("lengthAdjust", "spacingAndGlyphs");
    }

    private static string Shorten(Match number) =>
        double.Parse(number.Value, CultureInfo.InvariantCulture).ToString("0.#", CultureInfo.InvariantCulture);

    // Rotations need more places than positions.
    private static string ShortenFinely(Match number) =>
        double.Parse(number.Value, CultureInfo.InvariantCulture).ToString("0.####", CultureInfo.InvariantCulture);

    [GeneratedRegex(@"-?\d*\.\d+(e[-+]?\d+)?")]
    private static partial Regex Decimal();
}
