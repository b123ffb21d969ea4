using BoardSim.Engine.Analyses;
using BoardSim.Engine.Numerics;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>The verb <c>work-precision</c>: every method at every accuracy on every problem, as a table and a figure.</summary>
internal static class WorkPrecisionRun
{
    private static readonly double[] Accuracies = [1e-2, 1e-3, 1e-4, 1e-5, 1e-6];

    /// <summary>A run longer than this in seconds is the last of its ladder: tighter ones would only take longer.</summary>
    private const double LongEnough = 4;

    /// <summary>Measures, prints the table as it grows, and writes <c>work-precision.csv</c>, <c>.png</c> and <c>.svg</c>.</summary>
    /// <param name="folder">Folder for the files; it is made if need be.</param>
    public static void Run(string folder)
    {
        Directory.CreateDirectory(folder);
        Console.WriteLine(MeasurementTable.Head);
        var all = new List<Measurement>();
        foreach (var problem in Problems.All())
        {
            foreach (var method in StageMethod.All)
            {
                foreach (var accuracy in Accuracies)
                {
                    try
                    {
                        all.Add(problem.Measure(method, accuracy));
                    }
                    catch (SolverException stuck)
                    {
                        Console.WriteLine($"{problem.Name},{method.Name},{accuracy:0e+0}: {stuck.Message}");
                        continue;
                    }

                    Console.WriteLine(MeasurementTable.Row(all[^1]));
                    if (all[^1].Seconds > LongEnough)
                    {
                        break;
                    }
                }
            }
        }

        File.WriteAllLines(Path.Combine(folder, "work-precision.csv"), [MeasurementTable.Head, .. all.Select(MeasurementTable.Row)]);
        var figure = MeasurementFigure.From(all);
        figure.SavePng(Path.Combine(folder, "work-precision.png"));
        figure.SaveSvg(Path.Combine(folder, "work-precision.svg"));
    }
}
