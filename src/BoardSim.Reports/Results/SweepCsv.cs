using System.Text;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Results;

/// <summary>A sweep as a table: first column the swept quantity, then one column for each condition and metric or reading.</summary>
internal static class SweepCsv
{
    public static string Write(SweepResult sweep)
    {
        var text = new StringBuilder();
        CsvText.Line(text, sweep.Series.Select(series => $"{series.Condition}: {series.Name}{Unit(series.Unit)}").Prepend(sweep.Variable + Unit(sweep.Unit)));
        for (var k = 0; k < sweep.X.Count; k++)
            CsvText.Line(text, sweep.Series.Select(series => CsvText.Value(series.Values[k])).Prepend(CsvText.Number(sweep.X[k])));
        return text.ToString();
    }

    private static string Unit(string unit) => unit.Length == 0 ? "" : $" ({unit})";
}
