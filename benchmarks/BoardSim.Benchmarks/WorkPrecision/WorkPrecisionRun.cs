using BoardSim.Engine.Analyses;
using BoardSim.Engine.Numerics;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>The verb <c>work-precision</c>: every method at every accuracy on every problem, as a table and two figures.</summary>
internal static class WorkPrecisionRun
{
    private static readonly double[] Accuracies = [1e-2, 1e-3, 1e-4, 1e-5, 1e-6];

    /// <summary>A run longer than this in seconds is the last of its ladder: tighter ones would only take longer.</summary>
    private const double LongEnough = 4;

    /// <summary>Seconds after which what is run often has been compiled for good.</summary>
    private const double WarmUp = 4;

    /// <summary>Measures, prints the table as it grows, and writes <c>work-precision.csv</c> and a figure each of the circuits of boards and of the test
    /// circuits, as <c>.png</c> and <c>.svg</c>.</summary>
    /// <param name="folder">Folder for the files; it is made if need be.</param>
    /// <param name="peers">Folder of circuits that stand in for our own circuits of boards; null for our own.</param>
    public static void Run(string folder, string? peers)
    {
        Directory.CreateDirectory(folder);
        Console.WriteLine(MeasurementTable.Head);
        var (boards, tests) = (Problems.Boards(peers), Problems.TestSet());
        for (var begun = Timing.Now; Timing.Now - begun < WarmUp;)
        {
            foreach (var method in StageMethod.All)
            {
                boards[1].Measure(method, Accuracies[1]);
            }
        }

        var ofBoards = boards.SelectMany(Measure).ToList();
        var ofTests = tests.SelectMany(Measure).ToList();
        File.WriteAllLines(Path.Combine(folder, "work-precision.csv"), [MeasurementTable.Head, .. ofBoards.Concat(ofTests).Select(MeasurementTable.Row)]);
        Draw(folder, "boards", "circuits of boards", ofBoards);
        Draw(folder, "test-set", "published test circuits", ofTests);
    }

    private static IEnumerable<Measurement> Measure(Problem problem)
    {
        foreach (var method in StageMethod.All)
        {
            foreach (var accuracy in Accuracies)
            {
                Measurement found;
                try
                {
                    found = problem.Measure(method, accuracy);
                }
                catch (SolverException stuck)
                {
                    Console.WriteLine($"{problem.Name},{method.Name},{accuracy:0e+0}: {stuck.Message}");
                    continue;
                }

                Console.WriteLine(MeasurementTable.Row(found));
                yield return found;
                if (found.Seconds > LongEnough)
                {
                    break;
                }
            }
        }
    }

    private static void Draw(string folder, string name, string title, IEnumerable<Measurement> all)
    {
        var figure = MeasurementFigure.From(title, all);
        figure.SavePng(Path.Combine(folder, $"work-precision-{name}.png"));
        figure.SaveSvg(Path.Combine(folder, $"work-precision-{name}.svg"));
    }
}
