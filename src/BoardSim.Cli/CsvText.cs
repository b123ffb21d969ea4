using System.Globalization;

namespace BoardSim.Cli;

/// <summary>Writes tables of numbers as comma-separated values (RFC 4180): one header line, then numbers that read back to the same bits.</summary>
internal static class CsvText
{
    /// <summary>Writes a table.</summary>
    /// <param name="writer">Receiver.</param>
    /// <param name="headers">One heading per column.</param>
    /// <param name="columns">As many columns, all of one length.</param>
    public static void Write(TextWriter writer, IReadOnlyList<string> headers, IReadOnlyList<IReadOnlyList<double>> columns)
    {
        writer.WriteLine(string.Join(',', headers.Select(Quote)));
        Span<char> buffer = stackalloc char[40];
        var rows = columns.Count == 0 ? 0 : columns[0].Count;
        for (var row = 0; row < rows; row++)
        {
            for (var k = 0; k < columns.Count; k++)
            {
                if (k > 0)
                {
                    writer.Write(',');
                }

                columns[k][row].TryFormat(buffer, out var length, "R", CultureInfo.InvariantCulture);
                writer.Write(buffer[..length]);
            }

            writer.WriteLine();
        }
    }

    private static string Quote(string text) =>
        text.AsSpan().IndexOfAny(",\"\n\r") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
