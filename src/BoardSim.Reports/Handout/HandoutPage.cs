using System.Globalization;
using BoardSim.Reports.Figures;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Handout;

/// <summary>
/// A page to read, print and hand out: one file without anything from elsewhere, with the cautions before the numbers.
/// </summary>
internal static class HandoutPage
{
    private const int MostEvents = 30;

    // Sizes for paper as well as screen; tables and figures stay whole when printed.
    private const string Style = """
        body { font: 17px/1.5 "Liberation Sans", Arial, Helvetica, sans-serif; color: #1a1a1a; background: #fff; max-width: 62rem; margin: 0 auto; padding: 1.5rem; }
        h1 { font-size: 1.9rem; line-height: 1.2; margin: 0 0 .3rem; } h2 { font-size: 1.3rem; margin: 2rem 0 .6rem; border-bottom: 2px solid #0b3c7d; }
        .block { color: #444; margin: 0 0 1rem; }
        .caution { border: 3px solid #b42318; background: #fff4f0; padding: .2rem 1rem; margin: 1.2rem 0; }
        .caution h2 { border: 0; margin: .6rem 0 .2rem; color: #8f1a10; }
        figure { margin: 1rem 0 1.6rem; } figure img { width: 100%; height: auto; border: 1px solid #ccc; }
        figcaption { color: #444; }
        .wide { overflow-x: auto; } table { border-collapse: collapse; width: 100%; margin: .4rem 0 1rem; }
        th, td { border: 1px solid #bbb; padding: .3rem .6rem; text-align: left; vertical-align: top; } thead th { background: #eef2f7; }
        tbody th { font-weight: 600; } .number { text-align: right; font-variant-numeric: tabular-nums; }
        .fails { font-weight: bold; color: #8f1a10; } dt { font-weight: 600; margin-top: .4rem; } dd { margin: 0 0 .2rem 1.2rem; }
        @media print { body { max-width: none; padding: 0; font-size: 11pt; } figure, table, .caution { break-inside: avoid; } h2 { break-after: avoid; } }
        """;

    public static string Write(ScenarioResult result, IReadOnlyList<(FigureSpec Spec, string Svg)> figures)
    {
        var title = result.Scenario.Title;
        var page = new Html();
        page.Raw("<!DOCTYPE html>").Raw("<html lang=\"en\">").Raw("<head>").Raw("<meta charset=\"utf-8\">")
            .Raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">")
            .Element("title", title).Raw($"<style>\n{Style}\n</style>").Raw("</head>").Raw("<body>")
            .Element("h1", title).Element("p", result.BlockTitle, "class=\"block\"");
        Cautions(page, result.Cautions);
        page.Element("p", result.Scenario.About);
        Conditions(page, result);
        foreach (var (spec, svg) in figures)
            page.Raw($"<figure><img alt=\"{Html.Escape(spec.Title)}\" src=\"data:image/svg+xml;base64,{Convert.ToBase64String(Files.Utf8.GetBytes(svg))}\">"
                + $"<figcaption>{Html.Escape(spec.Title)} (figures/{Html.Escape(spec.Id)}.png, .svg)</figcaption></figure>");
        Readings(page, result);
        Metrics(page, result);
        Expectations(page, result);
        Events(page, result);
        Evidence(page, result);
        return page.Raw("</body>").Raw("</html>").ToString();
    }

    private static void Cautions(Html page, IReadOnlyList<string> cautions)
    {
        if (cautions.Count == 0)
            return;
        page.Raw("<section class=\"caution\" role=\"note\">").Element("h2", "Caution: line side");
        foreach (var caution in cautions)
            page.Element("p", caution);
        page.Raw("</section>");
    }

    private static void Conditions(Html page, ScenarioResult result)
    {
        page.Element("h2", "What is compared").Raw("<dl>");
        foreach (var condition in result.Conditions)
        {
            page.Element("dt", condition.Label);
            var values = result.Scenario.Conditions.FirstOrDefault(spec => spec.Name == condition.Name)?.Values ?? [];
            List<string> what = [.. condition.Faults, .. values.Select(value => $"{value.Key} = {value.Text}")];
            page.Element("dd", what.Count == 0 ? "No fault." : string.Join("; ", what));
        }

        page.Raw("</dl>");
        if (result.Scenario.Values.Count > 0)
            page.Element("p", "Values set for all conditions: " + string.Join("; ", result.Scenario.Values.Select(value => $"{value.Key} = {value.Text}")) + ".");
    }

    private static void Readings(Html page, ScenarioResult result)
    {
        var names = result.Conditions.SelectMany(condition => condition.Readings).DistinctBy(reading => reading.Name).ToList();
        if (names.Count == 0)
            return;
        page.Element("h2", "What the meter shows").Table(
            ["Reading", "Between", "Instrument", .. result.Conditions.Select(condition => condition.Label)],
            names.Select(reading => (IReadOnlyList<string>)
            [
                reading.Label,
                Between(reading.Signal),
                reading.Signal.Instrument,
                .. result.Conditions.Select(condition => condition.Readings.FirstOrDefault(r => r.Name == reading.Name) is { } shown ? Engineering.Print(shown.Display) : "not taken"),
            ]),
            textColumns: 3);
    }

    private static string Between(SignalInfo signal) =>
        (signal.Reference.Length == 0 ? signal.Point : $"{signal.Point} and {signal.Reference}") + (signal.IsWrongReference ? " (the wrong reference)" : "");

    private static void Metrics(Html page, ScenarioResult result)
    {
        var names = result.Conditions.SelectMany(condition => condition.Metrics).DistinctBy(metric => metric.Name).ToList();
        if (names.Count == 0)
            return;
        page.Element("h2", "Numbers taken from the waveforms").Table(
            ["Number", "Of", .. result.Conditions.Select(condition => condition.Label)],
            names.Select(metric => (IReadOnlyList<string>)
            [
                metric.Label,
                result.Signals.FirstOrDefault(signal => signal.Name == metric.Of) is { } signal ? DrawnRun.Heading(signal) : metric.Of,
                .. result.Conditions.Select(condition => Value(condition.Metrics.FirstOrDefault(m => m.Name == metric.Name))),
            ]),
            textColumns: 2);
        page.Element("h3", "How they are defined").Raw("<dl>");
        foreach (var metric in names)
            page.Element("dt", metric.Label).Element("dd", metric.Definition);
        page.Raw("</dl>");
    }

    private static string Value(MetricValue? metric) =>
        metric is null ? "not taken"
        : Engineering.Print(metric.Display) + (metric.Remark.Length > 0 ? ": " + metric.Remark : "");

    private static void Expectations(Html page, ScenarioResult result)
    {
        if (result.Expectations.Count == 0)
            return;
        page.Element("h2", "What is expected, and what came out").Raw("<div class=\"wide\"><table><thead><tr><th scope=\"col\">Expectation</th><th scope=\"col\">Found</th><th scope=\"col\">Holds</th><th scope=\"col\">Why</th></tr></thead><tbody>");
        foreach (var expectation in result.Expectations)
            page.Raw("<tr>").Element("th", expectation.Text, "scope=\"row\"")
                .Raw($"<td>{Html.Escape(Engineering.Print(expectation.Found))}</td>")
                .Raw(expectation.Holds ? "<td>yes</td>" : "<td class=\"fails\">NO</td>")
                .Raw($"<td>{Html.Escape(expectation.Why)}</td>").Raw("</tr>");
        page.Raw("</tbody></table></div>");
    }

    private static void Events(Html page, ScenarioResult result)
    {
        var all = result.Conditions.SelectMany(condition => condition.Events.Select(item => (condition.Label, item))).ToList();
        if (all.Count == 0)
            return;
        page.Element("h2", "What happened during the run").Table(
            ["Condition", "Part", "State", "Time"],
            all.Take(MostEvents).Select(entry => (IReadOnlyList<string>)[entry.Label, entry.item.Part, entry.item.State, Engineering.Format(entry.item.Time, "s", 5)]),
            textColumns: 3);
        if (all.Count > MostEvents)
            page.Element("p", $"The first {MostEvents} of {all.Count}; all are in result.json.");
    }

    // A page has raised digits; the figures' font has only some of them.
    private static string Power(double value)
    {
        if (value == 0 || !double.IsFinite(value))
            return value == 0 ? "0" : "not finite";
        var parts = value.ToString("0.0E0", CultureInfo.InvariantCulture).Split('E');
        return $"{parts[0].Replace('-', '−')} × 10{string.Concat(parts[1].Select(c => c == '-' ? '⁻' : "⁰¹²³⁴⁵⁶⁷⁸⁹"[c - '0']))}";
    }

    private static void Evidence(Html page, ScenarioResult result)
    {
        var runs = result.Conditions.Select(condition => (condition.Label, condition.Evidence))
            .Concat(result.Sweep is { } sweep ? [("sweep, all points", sweep.Evidence)] : []).ToList();
        page.Element("h2", "Why the numbers can be trusted").Table(
            ["Run", "Points", "Rejected steps", "Newton iterations", "Worst current balance", "Energy balance"],
            runs.Select(run => (IReadOnlyList<string>)
            [
                run.Label, Engineering.Count(run.Evidence.Points), Engineering.Count(run.Evidence.Rejected), Engineering.Count(run.Evidence.NewtonIterations),
                Power(run.Evidence.WorstKclResidual) + " A", Power(run.Evidence.PowerBalance),
            ]));
        page.Element(
            "p",
            "The current balance is the largest sum of currents left over at any node (Kirchhoff's current law). The energy balance is the work of the sources "
            + "less what was dissipated and what is stored, relative to the energy turned over (Tellegen's theorem, integrated). Both would be zero in exact arithmetic.");
        foreach (var line in PeriodicText.Lines(result))
            page.Element("p", line);
    }
}
