using System.Text;
using BoardSim.Quantities;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Notebooks;

/// <summary>What came out of a scenario as tables in plain text.</summary>
public static class ResultTables
{
    /// <summary>Faults, readings, metrics, the sweep and the expectations, in this order; what a scenario has not is left out.</summary>
    /// <param name="result">The run.</param>
    public static string All(ScenarioResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        List<string> parts = [Faults(result), Numbers(result), Sweep(result), Expectations(result), Evidence(result)];
        return string.Join("\n", parts.Where(part => part.Length > 0));
    }

    /// <summary>Readings of the meters and metrics, a row each, a column for each condition; empty when there are none.</summary>
    /// <param name="result">The run.</param>
    public static string Numbers(ScenarioResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var first = result.Conditions[0];
        if (first.Readings.Count + first.Metrics.Count == 0)
            return "";
        var table = new TextTable(["", .. result.Conditions.Select(condition => condition.Label)]);
        List<string> remarks = [];
        foreach (var reading in first.Readings)
        {
            var row = result.Conditions.Select(condition => condition.Readings.First(r => r.Name == reading.Name)).ToList();
            table.Add([$"{reading.Label}{Place(reading.Signal)}", .. row.Select(r => r.Display)]);
            remarks.AddRange(row.Where(r => r.Note.Length > 0).Select(r => $"{r.Label}: {r.Note}"));
        }

        foreach (var metric in first.Metrics)
        {
            var row = result.Conditions.Select(condition => (condition, Metric: condition.Metrics.First(m => m.Name == metric.Name))).ToList();
            table.Add([metric.Label, .. row.Select(r => r.Metric.Display)]);
            remarks.AddRange(row.Where(r => r.Metric.Remark.Length > 0).GroupBy(r => r.Metric.Remark).Select(group =>
                $"{metric.Label}, no value ({string.Join("; ", group.Select(r => r.condition.Label))}): {group.Key}"));
        }

        return table + string.Concat(remarks.Distinct().Select(remark => remark + "\n"));
    }

    /// <summary>The swept quantity down the table, a column for each recorded number, or a table for each with a column for each condition; empty without a sweep.</summary>
    /// <param name="result">The run.</param>
    public static string Sweep(ScenarioResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        if (result.Sweep is not { } sweep)
            return "";
        string[] names = [.. result.Conditions.Select(condition => condition.Name).Where(name => sweep.Series.Any(series => series.Condition == name))];
        return string.Join("\n", names.Length > 1
            ? sweep.Series.GroupBy(series => series.Name).Select(group =>
                group.First().Label + ":\n" + Sweep(sweep, [.. group], series => result.Condition(series.Condition).Label))
            : [Sweep(sweep, sweep.Series, series => series.Label)]);
    }

    private static string Sweep(SweepResult sweep, IReadOnlyList<SweepSeries> columns, Func<SweepSeries, string> head)
    {
        var table = new TextTable([sweep.Label, .. columns.Select(head)]);
        for (var k = 0; k < sweep.X.Count; k++)
            table.Add([Text(sweep.X[k], sweep.Unit), .. columns.Select(series => Text(series.Values[k], series.Unit))]);
        return table.ToString();
    }

    private static string Faults(ScenarioResult result)
    {
        var text = new StringBuilder();
        foreach (var condition in result.Conditions.Where(condition => condition.Faults.Count > 0))
            text.Append(condition.Label).Append(": ").AppendJoin("; ", condition.Faults).Append('\n');
        return text.ToString();
    }

    private static string Expectations(ScenarioResult result) => string.Concat(result.Expectations.Select(expectation =>
        $"{(expectation.Holds ? "Holds" : "DOES NOT HOLD")}: {expectation.Text}; found {expectation.Found.TrimEnd('.')}. {expectation.Why}\n"));

    // Rounded up to a decade: residuals are rounding noise, which differs from one processor to the next.
    private static string Evidence(ScenarioResult result)
    {
        var worst = result.Conditions.Select(condition => condition.Evidence.PowerBalance)
            .Concat(result.Sweep is { } sweep ? [sweep.Evidence.PowerBalance] : []).Max();
        if (!(worst > 0))
            return "";
        var bound = Math.Max(1e-12, Math.Pow(10, Math.Ceiling(Math.Log10(worst))));
        return FormattableString.Invariant($"Evidence: the powers of all parts add up to zero within {bound * 100:0.##########} % of what the sources gave.\n");
    }

    private static string Place(SignalInfo signal) => signal.Reference.Length == 0 ? ""
        : $" ({signal.Point} against {signal.Reference}{(signal.IsWrongReference ? ", the wrong reference" : "")})";

    private static string Text(double shown, string symbol)
    {
        var unit = Unit.Find(symbol) ?? Unit.Ratio;
        return double.IsNaN(shown) ? "no value" : unit.Display(unit.Held(shown));
    }
}
