using System.Globalization;
using System.Text;

namespace BoardSim.Reports.Results;

/// <summary>Comma-separated values as RFC 4180 has them: lines end with LF, fields with commas or quotes are quoted.</summary>
internal static class CsvText
{
    /// <summary>Writes one line.</summary>
    public static void Line(StringBuilder text, IEnumerable<string> fields) =>
        text.AppendJoin(',', fields.Select(Field)).Append('\n');

    /// <summary>A number with twelve digits, as instants need them late in a run; empty when there is none.</summary>
    public static string Number(double value) => Text(value, "G12");

    /// <summary>A number with eight digits, more than any run is accurate to; empty when there is none.</summary>
    public static string Value(double value) => Text(value, "G8");

    private static string Text(double value, string format) =>
        double.IsFinite(value) ? (value == 0 ? 0 : value).ToString(format, CultureInfo.InvariantCulture) : "";

    private static string Field(string text) =>
        text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
