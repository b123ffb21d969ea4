using System.Globalization;
using System.Text;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Results;

/// <summary>A tolerance run as a table: a row for each board, drawn ones first and corners after them, with the values that were varied, then the
/// recorded numbers under each condition, then what went wrong.</summary>
internal static class CasesCsv
{
    public static string Write(ToleranceResult run)
    {
        var text = new StringBuilder();
        var failures = run.Cases.Failures.ToLookup(failure => failure.Number / run.Series.Select(series => series.Condition).Distinct().Count());
        CsvText.Line(text, [
            "board", "kind",
            .. run.Inputs.Select(input => Shared(run, input.Key) ? $"{string.Join(" ", input.Conditions)}: {input.Key}{Unit(input.Unit)}" : input.Key + Unit(input.Unit)),
            .. run.Series.Select(series => $"{series.Condition}: {series.Name}{Unit(series.Unit)}"),
            "failure"]);
        for (var k = 0; k < run.Samples + run.Corners; k++)
        {
            var (kind, number) = k < run.Samples ? ("drawn", k) : ("corner", k - run.Samples);
            CsvText.Line(text, [
                number.ToString(CultureInfo.InvariantCulture), kind,
                .. run.Inputs.Select(input => CsvText.Value(input.Values[k])),
                .. run.Series.Select(series => CsvText.Value(k < run.Samples ? series.Values[k] : series.CornerValues[number])),
                string.Join("; ", failures[k].Select(failure => $"{failure.Case}: {failure.Message}"))]);
        }

        return text.ToString();
    }

    // The same value under several conditions needs telling apart only when its nominal value differs between them.
    private static bool Shared(ToleranceResult run, string key) => run.Inputs.Count(input => input.Key == key) > 1;

    private static string Unit(string unit) => unit.Length == 0 ? "" : $" ({unit})";
}
