using BoardSim.Reports.Figures;

namespace BoardSim.Reports.Tests;

/// <summary>Small figures for tests.</summary>
internal static class Sample
{
    public static double[] Times(int count, double end) => [.. Enumerable.Range(0, count).Select(k => end * k / (count - 1))];

    public static Figure Figure(string title = "A title", string heading = "Bulk + against primary return", int points = 400) =>
        new(title, FigureAxis.Time,
        [
            new FigurePanel(heading, new FigureAxis("Voltage", "V"),
            [
                new FigureTrace("healthy", Times(points, 0.05), [.. Times(points, 0.05).Select(t => 160 + (5 * Math.Sin(700 * t)))], TraceRole.Healthy),
                new FigureTrace("faulty", Times(points, 0.05), [.. Times(points, 0.05).Select(t => 140 + (20 * Math.Sin(700 * t)))], TraceRole.Faulty),
            ]),
        ]);

    public static string TemporaryFolder()
    {
        var folder = Path.Combine(Path.GetTempPath(), "boardsim-reports-" + Guid.NewGuid().ToString("N"));
        Directory.CreateDirectory(folder);
        return folder;
    }
}
