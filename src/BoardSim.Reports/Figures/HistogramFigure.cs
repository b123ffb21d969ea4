using BoardSim.Scenarios;

namespace BoardSim.Reports.Figures;

/// <summary>How a number scatters over the boards of a tolerance run: an outline for each condition over the same classes.</summary>
internal static class HistogramFigure
{
    private const int FewestClasses = 8;
    private const int MostClasses = 60;

    public static Figure From(DrawnRun run)
    {
        var tolerance = run.Result.Tolerance ?? throw new ReportException($"The figure '{run.Spec.Id}' draws a histogram, and the run has no tolerance run.");
        var name = run.Spec.Show[0];
        var drawn = run.Conditions.SelectMany(condition => tolerance.Find(condition.Name, name) is { } series ? [(Condition: condition, Series: series)] : Array.Empty<(ConditionResult Condition, ToleranceSeries Series)>()).ToList();
        if (drawn.Count == 0)
            throw run.Unknown("number of the tolerance run", name, tolerance.Series.Select(series => series.Name).Distinct());
        var edges = Edges([.. drawn.SelectMany(c => c.Series.Values).Where(double.IsFinite)], tolerance.Samples);
        var traces = drawn.Select(c => Outline(run.Label(c.Condition), c.Series.Values, edges, DrawnRun.Role(c.Condition))).ToList();
        var one = drawn[0].Series;
        var of = run.SignalOf(name);
        var heading = DrawnRun.Capital(one.Label);
        if (of is not null)
            heading = of.Label == one.Label ? DrawnRun.Heading(of) : heading + ": " + DrawnRun.Heading(of);
        var panel = new FigurePanel(heading, new FigureAxis("Boards", "", Minimum: 0), traces) { CallOuts = CallOuts(run, drawn) };

        // Room on either side, so that no outline hides behind the frame.
        var room = (edges[^1] - edges[0]) / 20;
        var axis = new FigureAxis(Engineering.Quantity(one.Unit, DrawnRun.Capital(one.Label)), one.Unit, Minimum: edges[0] - room, Maximum: edges[^1] + room);
        return new Figure(run.Spec.Title, axis, [panel]) { Notes = run.Notes };
    }

    // Mean and deviation belong to every histogram; what else is written is up to the scenario.
    private static List<CallOut> CallOuts(DrawnRun run, List<(ConditionResult Condition, ToleranceSeries Series)> drawn)
    {
        var unit = Quantities.Unit.Find(drawn[0].Series.Unit)!;
        var statistics = drawn.Select(c => (Label: run.Label(c.Condition), Of: c.Series.Statistics())).ToList();
        CallOut Row(string what, Func<Measurement.SampleStatistics, double> of) => new(what, [.. statistics.Select(s =>
            KeyValuePair.Create(s.Label, double.IsNaN(of(s.Of)) ? "no value" : Engineering.Print(unit.Display(unit.Held(of(s.Of))))))]);
        return [Row("Mean", s => s.Mean), Row("Lowest", s => s.Minimum), Row("Highest", s => s.Maximum), .. run.CallOuts(run.Spec.Show[0], first: true, [])];
    }

    // The same classes for all conditions: twice the cube root of the count (Rice's rule, common practice, no source), or one for each value where they come in
    // steps, as those of a converter do: other classes would take in two steps here and one there.
    private static double[] Edges(double[] values, int samples)
    {
        double[] distinct = [.. values.Distinct().Order()];
        if (distinct.Length == 0)
            return [0, 1];
        var (low, high) = (distinct[0], distinct[^1]);
        if (high - low <= 1e-9 * Math.Max(Math.Abs(low), Math.Abs(high)))
            return [low - Math.Max(1e-3 * Math.Abs(low), 1e-12), high + Math.Max(1e-3 * Math.Abs(high), 1e-12)];
        var step = (high - low) / (distinct.Length - 1);
        if (distinct.Length <= MostClasses && distinct.Zip(distinct.Skip(1), (a, b) => b - a).All(gap => gap > 0.5 * step && gap < 1.5 * step))
            return [.. Enumerable.Range(0, distinct.Length + 1).Select(k => low + ((k - 0.5) * step))];
        var count = Math.Clamp((int)Math.Ceiling(2 * Math.Cbrt(samples)), FewestClasses, MostClasses);
        return [.. Enumerable.Range(0, count + 1).Select(k => low + ((high - low) * k / count))];
    }

    private static FigureTrace Outline(string label, IReadOnlyList<double> values, double[] edges, TraceRole role)
    {
        var counts = new double[edges.Length - 1];
        foreach (var value in values.Where(double.IsFinite))
            counts[Math.Clamp((int)((value - edges[0]) / (edges[^1] - edges[0]) * counts.Length), 0, counts.Length - 1)]++;

        // A step outline over the classes that have any: each edge twice, at the height of the class before and of the one after.
        var (first, last) = (Math.Max(0, Array.FindIndex(counts, count => count > 0)), Array.FindLastIndex(counts, count => count > 0) + 1);
        List<double> x = [], y = [];
        for (var k = first; k <= last; k++)
        {
            x.AddRange([edges[k], edges[k]]);
            y.AddRange([k == 0 ? 0 : counts[k - 1], k == counts.Length ? 0 : counts[k]]);
        }

        return new FigureTrace(label, x, y, role);
    }
}
