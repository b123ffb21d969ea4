using BoardSim.Reports.Figures;
using BoardSim.Scenarios;

namespace BoardSim.Reports;

/// <summary>Draws the figures that a scenario describes from the results of its run.</summary>
public static class FigureRenderer
{
    /// <summary>Draws one figure and writes it as PNG and SVG.</summary>
    /// <param name="result">The run.</param>
    /// <param name="spec">What is drawn.</param>
    /// <param name="folder">Folder for the files; it must exist.</param>
    /// <returns>Names of the files, without folder.</returns>
    /// <exception cref="ReportException">The figure asks for what the run does not have, or the files cannot be written.</exception>
    public static IReadOnlyList<string> Render(ScenarioResult result, FigureSpec spec, string folder)
    {
        var drawing = Draw(result, spec);
        var (png, svg) = (spec.Id + ".png", spec.Id + ".svg");
        drawing.SavePng(Path.Combine(folder, png));
        drawing.SaveSvg(Path.Combine(folder, svg));
        return [png, svg];
    }

    /// <summary>Draws one figure.</summary>
    /// <param name="result">The run.</param>
    /// <param name="spec">What is drawn.</param>
    /// <exception cref="ReportException">The figure asks for what the run does not have.</exception>
    public static Drawing Draw(ScenarioResult result, FigureSpec spec)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(spec);
        if (spec.Id.Length == 0 || Path.GetFileName(spec.Id) != spec.Id)
            throw new ReportException($"The figure id '{spec.Id}' cannot be a file name; use letters, digits and hyphens.");
        var drawn = new DrawnRun(result, spec);
        Drawing drawing = spec.Kind switch
        {
            FigureKind.Waveforms => WaveformFigure.From(drawn),
            FigureKind.Response => WaveformFigure.OverFrequency(drawn),
            FigureKind.Sweep => SweepFigure.From(drawn),
            FigureKind.Histogram => HistogramFigure.From(drawn),
            _ => BarsFigure.From(drawn),
        };
        return drawing with
        {
            Styling = drawn.Styling,
            Title = Engineering.PrintText(spec.Title),
            Footer = result.Cautions.Count == 0 ? "" : "LINE SIDE: computed values do not make a measurement safe. Isolate, discharge, prove dead. See CAUTION.txt.",
        };
    }
}
