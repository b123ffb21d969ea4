using System.Text;
using System.Text.RegularExpressions;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Schema;

/// <summary>
/// The text form of a unit's values as a regular expression (ECMA-262, as JSON Schema asks for), so that an editor marks a
/// missing or wrong unit while it is typed. It lets through what the reader reads, and a little more: ranges are left to the reader.
/// </summary>
internal static class QuantityPattern
{
    private const string Number = @"[+\-\u2212]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+\-]?[0-9]+)?";
    private const string Blank = @"[ \u00A0\u2009\u202F]*";

    public static string Of(Unit unit)
    {
        var forms = unit.Spellings.Select(Form).Distinct(StringComparer.Ordinal);
        var pattern = $"{Number}{Blank}({string.Join('|', forms)})";
        if (unit.Letters.Length > 0)
        {
            var letters = unit.Letters.Contains('u', StringComparison.Ordinal) ? unit.Letters + @"\u00B5\u03BC" : unit.Letters;
            pattern += $@"|[+\-]?[0-9]*[{letters}][0-9]*{Blank}({string.Join('|', unit.Spellings.Select(s => Escape(s.Text)).Append(""))})";
        }

        return $"^{Blank}({pattern}){Blank}$";
    }

    private static string Form(UnitSpelling spelling)
    {
        if (spelling.Prefixes.Length == 0)
        {
            return Escape(spelling.Text);
        }

        var prefixes = spelling.Prefixes + (spelling.Prefixes.Contains('u', StringComparison.Ordinal) ? @"\u00B5\u03BC" : "");
        return $"[{prefixes}]?{Escape(spelling.Text)}";
    }

    /// <summary>The text as a pattern, with the signs that the reader takes for plain characters.</summary>
    private static string Escape(string text)
    {
        // The micro sign first: the escapes of the others have a u in them.
        var pattern = new StringBuilder(Regex.Replace(text, @"[\^.]", @"\$&")).Replace("u", @"[u\u00B5\u03BC]");
        return pattern.Replace("degC", @"(degC|\u00B0C|\u2103)").Replace("ohm", @"(ohm|\u03A9|\u2126)").Replace("A2", @"A(2|\u00B2)").ToString();
    }
}
