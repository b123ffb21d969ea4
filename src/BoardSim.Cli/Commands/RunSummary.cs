using System.Globalization;
using BoardSim.Engine.Analyses;
using BoardSim.Quantities;
using BoardSim.Scenarios;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary>What came out of a scenario, on the console: cautions first, then numbers side by side, then what was expected.</summary>
internal static class RunSummary
{
    public static void Write(Terminal terminal, ScenarioResult result, string folder, IReadOnlyList<string> files)
    {
        var output = terminal.Results;
        Line(output, result.Scenario.Title);
        Line(output, $"{result.BlockTitle} ({result.Scenario.Block})");
        foreach (var caution in result.Cautions)
        {
            Line(output, $"CAUTION: {caution}");
        }

        foreach (var condition in result.Conditions.Where(c => c.Faults.Count > 0))
        {
            Line(output, $"{condition.Label}: {string.Join("; ", condition.Faults)}");
        }

        Readings(output, result);
        Metrics(output, result);
        Sweep(output, result);
        Tolerance(output, result);
        Failures(output, "sweep", result.Sweep?.Cases);
        Failures(output, "tolerance run", result.Tolerance?.Cases);
        Expectations(output, result);
        Evidence(output, result);
        Line(output, $"Results are in {folder}: {string.Join(", ", files)}");
        Line(output, "");
    }

    private static void Readings(IAnsiConsole output, ScenarioResult result)
    {
        var signals = result.Signals.Where(s => s.IsReading).ToList();
        if (signals.Count == 0)
        {
            return;
        }

        var table = Columns(["Reading", "At", "With"], result.Conditions);
        foreach (var signal in signals)
        {
            var at = signal.Reference.Length == 0 ? signal.Point
                : $"{signal.Point} against {signal.Reference}{(signal.IsWrongReference ? " (not its own reference)" : "")}";
            Row(table, [signal.Label, at, signal.Instrument], result.Conditions.Select(c => c.Readings.First(r => r.Name == signal.Name).Display));
        }

        output.Write(table);
        foreach (var note in result.Conditions.SelectMany(c => c.Readings.Where(r => r.Note.Length > 0).Select(r => $"{r.Label}, {c.Label}: {r.Note}")))
        {
            Line(output, note);
        }
    }

    private static void Metrics(IAnsiConsole output, ScenarioResult result)
    {
        if (result.Scenario.Metrics.Count == 0)
        {
            return;
        }

        var table = Columns(["Metric", "Of"], result.Conditions);
        foreach (var metric in result.Scenario.Metrics)
        {
            var of = result.Signals.First(s => s.Name == metric.Of).Label;
            Row(table, [metric.Label, of], result.Conditions.Select(c => c.Metrics.First(m => m.Name == metric.Name).Display));
        }

        output.Write(table);
        foreach (var remark in result.Conditions.SelectMany(c => c.Metrics.Where(m => m.Remark.Length > 0).Select(m => $"{m.Label}, {c.Label}: {m.Remark}")))
        {
            Line(output, remark);
        }
    }

    /// <summary>First and last point of each series; the rest is in the files.</summary>
    private static void Sweep(IAnsiConsole output, ScenarioResult result)
    {
        if (result.Sweep is not { } sweep)
        {
            return;
        }

        var table = Columns([$"Sweep of {sweep.Label}", "Condition"], []);
        table.AddColumn(new TableColumn(new Text(Number(sweep.X[0], sweep.Unit))).RightAligned());
        table.AddColumn(new TableColumn(new Text(Number(sweep.X[^1], sweep.Unit))).RightAligned());
        foreach (var series in sweep.Series)
        {
            var condition = result.Condition(series.Condition).Label;
            Row(table, [series.Label, condition], [Number(series.Values[0], series.Unit), Number(series.Values[^1], series.Unit)]);
        }

        output.Write(table);
    }

    /// <summary>What each recorded number does over the boards; those of each board are in the files.</summary>
    private static void Tolerance(IAnsiConsole output, ScenarioResult result)
    {
        if (result.Tolerance is not { } run)
        {
            return;
        }

        var table = Columns([string.Create(CultureInfo.InvariantCulture, $"Tolerance run, {run.Samples} boards"), "Condition"], []);
        string[] heads = [.. run.Samples > 0 ? ["Mean", "Deviation", "Lowest", "1 %", "99 %", "Highest"] : Array.Empty<string>(), .. run.Corners > 0 ? ["Lowest corner", "Highest corner"] : Array.Empty<string>()];
        foreach (var head in heads)
        {
            table.AddColumn(new TableColumn(new Text(head)).RightAligned());
        }

        foreach (var series in run.Series)
        {
            var (drawn, corners) = (series.Statistics(), series.CornerStatistics());
            var difference = series.Unit == Unit.Temperature.Symbol ? Unit.Kelvin.Symbol : series.Unit;
            string[] numbers = run.Samples > 0
                ? [Number(drawn.Mean, series.Unit), Number(drawn.StandardDeviation, difference), .. new[] { drawn.Minimum, drawn.Quantile(0.01), drawn.Quantile(0.99), drawn.Maximum }.Select(v => Number(v, series.Unit))]
                : [];
            Row(table, [series.Label, result.Condition(series.Condition).Label], [.. numbers, .. run.Corners > 0 ? [Number(corners.Minimum, series.Unit), Number(corners.Maximum, series.Unit)] : Array.Empty<string>()]);
        }

        output.Write(table);
    }

    private static void Failures(IAnsiConsole output, string what, CaseCount? cases)
    {
        if (cases is { Failures.Count: > 0 })
        {
            var first = cases.Failures[0];
            Line(output, string.Create(CultureInfo.InvariantCulture, $"{cases.Failures.Count} of {cases.Total} cases of the {what} could not be computed; the first: {first.Case}: {first.Message}"));
        }
    }

    private static void Expectations(IAnsiConsole output, ScenarioResult result)
    {
        var table = Columns(["", "Expected", "Found", "Why"], []);
        foreach (var expectation in result.Expectations)
        {
            // The word carries the meaning; the colour only helps the eye.
            var mark = expectation.Holds ? new Text("holds", new Style(Color.Green)) : new Text("FAILS", new Style(Color.Red, decoration: Decoration.Bold));
            table.AddRow(mark, new Text(expectation.Text), new Text(Found(expectation)), new Text(expectation.Why));
        }

        output.Write(table);
    }

    private static string Found(ExpectationResult expectation) => expectation.Yield is { } share && expectation.Unit != Unit.Percent.Symbol
        ? string.Create(CultureInfo.InvariantCulture, $"{expectation.Found}; {100 * share:0.##} % of boards")
        : expectation.Found;

    private static void Evidence(IAnsiConsole output, ScenarioResult result)
    {
        var all = result.Conditions.Select(c => c.Evidence).Concat(result.Sweep is { } sweep ? [sweep.Evidence] : [])
            .Concat(result.Tolerance is { } tolerance ? [tolerance.Evidence] : []).ToList();
        var total = SolverEvidence.Total(all);
        var text = string.Create(
            CultureInfo.InvariantCulture,
            $"Solver: {total.Points} points, {total.Rejected} rejected, {total.NewtonIterations} Newton iterations; worst residual of Kirchhoff's current law {total.WorstKclResidual:G2} A{(total.WorstHeatResidual > 0 ? string.Create(CultureInfo.InvariantCulture, $", of heat {total.WorstHeatResidual:G2} W") : "")}, power balance within {total.PowerBalance:G2}; {total.WallSeconds:0.00} s of computation");
        Line(output, text);
        foreach (var line in PeriodicText.Lines(result))
        {
            Line(output, line);
        }

        if (total.PeriodsInterpolated > 0)
        {
            Line(output, string.Create(
                CultureInfo.InvariantCulture,
                $"Periods: {total.PeriodsComputed} computed, {total.PeriodsInterpolated} between them interpolated (alike-periods: leap)"));
        }
    }

    private static Table Columns(IReadOnlyList<string> heads, IReadOnlyList<ConditionResult> conditions)
    {
        var table = new Table();
        foreach (var head in heads)
        {
            table.AddColumn(new TableColumn(new Text(head)));
        }

        foreach (var condition in conditions)
        {
            table.AddColumn(new TableColumn(new Text(condition.Label)).RightAligned());
        }

        return table;
    }

    private static void Row(Table table, IReadOnlyList<string> heads, IEnumerable<string> values) =>
        table.AddRow([.. heads.Concat(values).Select(t => new Text(t))]);

    private static void Line(IAnsiConsole output, string text) => output.Write(new Text(text + "\n"));

    private static string Number(double shown, string symbol)
    {
        var unit = Unit.Find(symbol)!;
        return double.IsNaN(shown) ? "no value" : unit.Display(unit.Held(shown));
    }
}
