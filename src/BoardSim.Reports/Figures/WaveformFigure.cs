using BoardSim.Scenarios;

namespace BoardSim.Reports.Figures;

/// <summary>Observations over time: a panel for each, all conditions on the same axes.</summary>
internal static class WaveformFigure
{
    public static Figure From(DrawnRun run)
    {
        var windows = run.Conditions.Select(condition => condition.Resolve(run.Spec.Window)).ToList();
        var (from, to) = (windows.Min(window => window.From), windows.Max(window => window.To));
        if (!(to > from))
            throw new ReportException(
                $"The figure '{run.Spec.Id}' would be drawn from {from:R} s to {to:R} s; choose a window within what was recorded "
                + $"({run.Conditions.Min(c => c.Start):R} s to {run.Conditions.Max(c => c.Stop):R} s).");
        var panels = run.Spec.Show.Select((name, k) => Panel(run, name, first: k == 0)).ToList();
        return new Figure(run.Spec.Title, FigureAxis.Time with { Minimum = from, Maximum = to }, panels) { Notes = run.Notes };
    }

    /// <summary>Observations of a frequency response: decades along the horizontal axis, and along the vertical one for magnitudes with a unit.</summary>
    public static Figure OverFrequency(DrawnRun run)
    {
        var panels = run.Spec.Show.Select((name, k) => OfResponse(run, name, first: k == 0)).ToList();
        return new Figure(run.Spec.Title, new FigureAxis("Frequency", "Hz", Logarithmic: true), panels) { Notes = run.Notes };
    }

    private static FigurePanel OfResponse(DrawnRun run, string name, bool first)
    {
        var panel = Panel(run, name, first);
        var label = run.Result.Signals.First(signal => signal.Name == name).Label;
        return InDecades(panel with { Y = panel.Y with { Quantity = DrawnRun.Capital(label) } });
    }

    private static FigurePanel InDecades(FigurePanel panel) =>
        panel.Y.Unit is "dB" or "deg" || panel.Traces.Any(trace => trace.Y.Any(value => !(value > 0))) ? panel : panel with { Y = panel.Y with { Logarithmic = true } };

    private static FigurePanel Panel(DrawnRun run, string name, bool first)
    {
        var signal = run.Result.Signals.FirstOrDefault(candidate => candidate.Name == name)
            ?? throw run.Unknown("observation", name, run.Result.Signals.Select(candidate => candidate.Name));
        var traces = run.Conditions.Select(condition => (condition, Trace: condition.Waveform(name)))
            .Where(pair => pair.Trace is not null)
            .Select(pair => new FigureTrace(run.Label(pair.condition), pair.Trace!.Times, pair.Trace.Values, DrawnRun.Role(pair.condition))).ToList();
        return new FigurePanel(DrawnRun.Heading(signal), new FigureAxis(Engineering.Quantity(signal.Unit, DrawnRun.Capital(signal.Label)), signal.Unit), traces)
        {
            CallOuts = run.CallOuts(name, first, [.. run.Spec.Show]),
        };
    }
}
