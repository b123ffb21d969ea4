using BoardSim.Engine.Numerics;
using BoardSim.Reports.Figures;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>Time against true error, a panel for each problem and a line for each method: the lower, the better.</summary>
internal static class MeasurementFigure
{
    private const double Million = 1e6;

    /// <summary>Draws all measurements.</summary>
    /// <param name="title">What they were made on.</param>
    /// <param name="all">The measurements.</param>
    public static Figure From(string title, IEnumerable<Measurement> all) => new(
        "Work against precision: " + title,
        new FigureAxis("True error (parts per million of the peak)", "", Logarithmic: true),
        [.. all.GroupBy(m => m.Problem.Title).Select(Panel)])
    {
        Subtitle = "A mark for each accuracy asked, 1e-2 to 1e-6 from right to left; further down is less work",
    };

    private static FigurePanel Panel(IGrouping<string, Measurement> problem) => new(
        problem.Key,
        new FigureAxis("Processor time", "s", Logarithmic: true),
        [.. problem.GroupBy(m => m.Method).Select(Trace)]);

    private static FigureTrace Trace(IGrouping<StageMethod, Measurement> method)
    {
        var ordered = method.OrderBy(m => m.Error).ToList();

        // The method of highest order is drawn in the calm colour, the others against it.
        var role = method.Key == StageMethod.Esdirk4 ? TraceRole.Healthy : TraceRole.Faulty;
        return new FigureTrace(method.Key.Name, [.. ordered.Select(m => m.Error * Million)], [.. ordered.Select(m => m.Seconds)], role, Markers: true);
    }
}
