using System.Globalization;
using BoardSim.Benchmarks.Boards;
using BoardSim.Engine.Analyses;

namespace BoardSim.Benchmarks.Exactness;

/// <summary>
/// The verb <c>exactness</c>: is the accuracy asked the accuracy got? Over circuits and accuracies, the largest error of all metrics and
/// the power balance, as multiples of the accuracy, and the instants of events against closed forms.
/// </summary>
internal static class ExactnessRun
{
    /// <summary>Largest error that may be, as a multiple of the accuracy asked.</summary>
    private const double ErrorLimit = 3;

    /// <summary>Largest error of the power balance, as a multiple of the accuracy asked.</summary>
    private const double BalanceLimit = 10;

    /// <summary>A reference is good enough for an accuracy when its uncertainty is this part of it.</summary>
    private const double ReferenceShare = 0.3;

    private const double TightAccuracy = 1e-7;
    private static readonly double[] Accuracies = [1e-1, 3e-2, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6];

    /// <summary>Measures and prints.</summary>
    /// <param name="folders">Folders of circuits.</param>
    /// <param name="names">Circuits; all when empty.</param>
    public static void Run(IEnumerable<string> folders, string[] names)
    {
        EventInstants.Print(Accuracies);
        Console.WriteLine("\n| circuit | asked | worst error / asked | in | reference good to | power balance / asked | points | forced | |");
        Console.WriteLine("|---|---:|---:|---|---:|---:|---:|---:|---|");
        var (within, count) = (0, 0);
        foreach (var board in folders.SelectMany(Board.ReadAll).Where(b => names.Length == 0 || names.Contains(b.Name)))
        {
            double[]? tight = null;
            foreach (var accuracy in Accuracies)
            {
                count++;
                within += Check(board, accuracy, ref tight) ? 1 : 0;
            }
        }

        Console.WriteLine($"\n{within} of {count} runs keep error and power balance within {ErrorLimit} and {BalanceLimit} times the accuracy asked.");
    }

    private static bool Check(Board board, double accuracy, ref double[]? tight)
    {
        TransientResult run;
        (double Worst, string Where, double Known) found;
        try
        {
            run = board.RunAlone(accuracy);
            found = Judge(board, board.Measure(run), accuracy, ref tight);
        }
        catch (SolverException stuck)
        {
            Console.WriteLine($"| {board.Name} | {accuracy:0e+0} | {stuck.Message} |");
            return false;
        }

        var (worst, where, known) = found;
        var (e, b) = (worst / accuracy, run.Evidence.PowerBalance / accuracy);
        var ok = e <= ErrorLimit && b <= BalanceLimit;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"| {board.Name} | {accuracy:0e+0} | {e:0.00} | {where} | {known:0.0e+0} | {b:0.00} | {run.Evidence.Points} | {run.Evidence.Forced} | {(ok ? "" : "missed")} |"));
        return ok;
    }

    private static (double Worst, string Where, double Known) Judge(Board board, double[] values, double accuracy, ref double[]? tight)
    {
        var (worst, where, known) = (0.0, "", 0.0);
        for (var k = 0; k < values.Length; k++)
        {
            var metric = board.Metrics[k];
            if (!board.References.TryGetValue(metric.Name, out var reference) || reference.Relative > ReferenceShare * accuracy)
            {
                // The reference at hand is not sharp enough to tell: a run of our own must do, and its distance from the reference is shown.
                tight ??= Tight(board);
                if (tight.Length > 0)
                {
                    reference = new Reference(tight[k], board.References.TryGetValue(metric.Name, out var coarse) ? Math.Abs(tight[k] - coarse.Value) : 0);
                }
            }

            var error = reference.ErrorOf(values[k]);
            if (!(error <= worst))
            {
                (worst, where, known) = (error, metric.Name, reference.Relative);
            }
        }

        return (worst, where, known);
    }

    /// <summary>The metrics far below any accuracy asked; empty, and said so, when the solver gives up there.</summary>
    private static double[] Tight(Board board)
    {
        try
        {
            return board.MeasureAlone(TightAccuracy);
        }
        catch (SolverException stuck)
        {
            Console.WriteLine($"| {board.Name} | {TightAccuracy:0e+0} | no sharper reference: {stuck.Message} |");
            return [];
        }
    }
}
