namespace BoardSim.Reports.Figures;

/// <summary>Readings and metrics side by side: a group for each, a bar for each condition.</summary>
internal static class BarsFigure
{
    public static BarFigure From(DrawnRun run) => new(run.Spec.Title, [.. run.Spec.Show.Select(name => Group(run, name))]);

    private static BarGroup Group(DrawnRun run, string name)
    {
        var label = run.NameOf(name);
        var of = run.SignalOf(name);
        var heading = of is null ? DrawnRun.Capital(label)
            : of.Label == label ? DrawnRun.Heading(of)
            : $"{DrawnRun.Capital(label)}: {DrawnRun.Heading(of)}";
        var unit = run.Conditions.SelectMany(condition => condition.Metrics).FirstOrDefault(metric => metric.Name == name)?.Unit
            ?? run.Conditions.SelectMany(condition => condition.Readings).First(reading => reading.Name == name).Unit;
        return new BarGroup(heading, unit, [.. run.Conditions.Select(condition => new Bar(
            run.Label(condition), condition.Value(name) ?? double.NaN, run.TextOf(condition, name), DrawnRun.Role(condition)))]);
    }
}
