using System.Globalization;
using System.Text;

namespace BoardSim.Reports.Results;

/// <summary>Comma-separated values as RFC 4180 has them: lines end with LF, fields with commas or quotes are quoted.</summary>
internal static class CsvText
{
    /// <summary>Writes one line.</summary>
    public static void Line(StringBuilder text, IEnumerable<string> fields) =>
        text.AppendJoin(',', fields.Select(Field)).Append('\n');

    /// <summary>A number with twelve digits; empty when there is none.</summary>
    public static string Number(double value) =>
        double.IsFinite(value) ? (value == 0 ? 0 : value).ToString("G12", CultureInfo.InvariantCulture) : "";

    private static string Field(string text) =>
        text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
