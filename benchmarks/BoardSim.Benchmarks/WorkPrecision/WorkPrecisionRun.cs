using BoardSim.Engine.Numerics;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>The verb <c>work-precision</c>: every method at every accuracy on every problem, as a table and a figure.</summary>
internal static class WorkPrecisionRun
{
    private static readonly double[] Accuracies = [1e-2, 1e-3, 1e-4, 1e-5, 1e-6];

    /// <summary>Measures, prints the table as it grows, and writes <c>work-precision.csv</c>, <c>.png</c> and <c>.svg</c>.</summary>
    /// <param name="folder">Folder for the files; it is made if need be.</param>
    public static void Run(string folder)
    {
        Directory.CreateDirectory(folder);
        Console.WriteLine(MeasurementTable.Head);
        var all = new List<Measurement>();
        foreach (var problem in Problem.All())
        {
            foreach (var method in StageMethod.All)
            {
                foreach (var accuracy in Accuracies)
                {
                    all.Add(problem.Measure(method, accuracy));
                    Console.WriteLine(MeasurementTable.Row(all[^1]));
                }
            }
        }

        File.WriteAllLines(Path.Combine(folder, "work-precision.csv"), [MeasurementTable.Head, .. all.Select(MeasurementTable.Row)]);
        var figure = MeasurementFigure.From(all);
        figure.SavePng(Path.Combine(folder, "work-precision.png"));
        figure.SaveSvg(Path.Combine(folder, "work-precision.svg"));
    }
}
