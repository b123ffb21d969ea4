using BoardSim.Scenarios;

namespace BoardSim.Reports.Figures;

/// <summary>Metrics over the swept quantity: a panel for each metric, a marked line for each condition.</summary>
internal static class SweepFigure
{
    public static Figure From(DrawnRun run)
    {
        var sweep = run.Result.Sweep ?? throw new ReportException($"The figure '{run.Spec.Id}' draws a sweep, and the run has none.");
        var panels = run.Spec.Show.Select((name, k) => Panel(run, sweep, name, first: k == 0)).ToList();
        return new Figure(run.Spec.Title, new FigureAxis(DrawnRun.Capital(sweep.Label), sweep.Unit, sweep.Logarithmic), panels) { Notes = run.Notes };
    }

    private static FigurePanel Panel(DrawnRun run, SweepResult sweep, string name, bool first)
    {
        var order = Enumerable.Range(0, sweep.X.Count).OrderBy(k => sweep.X[k]).ToArray();
        double[] x = [.. order.Select(k => sweep.X[k])];
        List<FigureTrace> traces = [];
        foreach (var condition in run.Conditions)
            if (sweep.Find(condition.Name, name) is { } series)
                traces.Add(new FigureTrace(run.Label(condition), x, [.. order.Select(k => series.Values[k])], DrawnRun.Role(condition), Markers: x.Length <= 60));
        var one = sweep.Series.FirstOrDefault(series => series.Name == name)
            ?? throw run.Unknown("swept metric or reading", name, sweep.Series.Select(series => series.Name).Distinct());
        var of = run.SignalOf(name);
        var heading = DrawnRun.Capital(one.Label);
        if (of is not null && of.Label != one.Label)
            heading += ": " + DrawnRun.Heading(of);
        else if (of is not null)
            heading = DrawnRun.Heading(of);
        return new FigurePanel(heading, new FigureAxis(Engineering.Quantity(one.Unit, DrawnRun.Capital(one.Label)), one.Unit), traces)
        {
            CallOuts = run.CallOuts(name, first, [.. run.Spec.Show]),
        };
    }
}
