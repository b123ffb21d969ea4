using System.Diagnostics;
using BoardSim.Benchmarks.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Benchmarks.Peers;

/// <summary>
/// The verb <c>peers</c>: this engine and the comparison program on the same circuits over a ladder of accuracies, in turns so that
/// whatever else the machine does hits both alike, then times at equal error.
/// </summary>
internal static class PeersRun
{
    private const double UsualAccuracy = 1e-3;
    private const double SlowMilliseconds = 1000;
    private const int Rounds = 7;
    private const int SlowRounds = 3;
    private const int RepeatsPerRound = 3;
    private static readonly double[] Accuracies = [1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6];
    private static readonly double[] Tolerances = [1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 1e-4, 1e-5, 1e-6];

    /// <summary>Measures and prints.</summary>
    /// <param name="folder">Folder with <c>circuits/</c> and <c>reference/</c>.</param>
    /// <param name="program">Path of the comparison program, or null.</param>
    /// <param name="names">Circuits; all when empty.</param>
    public static void Run(string folder, string? program, string[] names)
    {
        var boards = Board.ReadAll(folder).Where(b => names.Length == 0 || names.Contains(b.Name)).ToList();
        using var ida = program is not null && File.Exists(program) ? new IdaProgram(program, boards) : null;
        if (ida is null)
        {
            Console.WriteLine($"The comparison program is left out: {(program is null ? "no path of it was given" : $"there is no file {program}")}.");
        }

        var all = new List<Comparison>();
        foreach (var board in boards)
        {
            all.Add(Compare(folder, board, ida));
            PeersTable.PrintDetails(all[^1]);
        }

        PeersTable.PrintSummary(all);
    }

    private static Comparison Compare(string folder, Board board, IdaProgram? ida)
    {
        var cold = ColdRun.Measure(folder, board, UsualAccuracy);
        var system = new CircuitSystem(board.Circuit);
        var leaps = board.Run(system, UsualAccuracy, leaps: true).Evidence.PeriodsInterpolated > 0;
        var comparison = new Comparison(board, Ours(leaps), Ours(leaps), ida is null ? [] : Ladder(Tolerances), cold);
        foreach (var attempt in comparison.Ours)
        {
            Try(attempt, () => Judge(attempt, board, board.Run(system, attempt.Setting, leaps: attempt.Leaps)));
        }

        for (var round = 0; round < Rounds; round++)
        {
            foreach (var attempt in comparison.Ida.Where(a => IsDue(a, round)))
            {
                var result = ida!.Run(board, attempt.Setting, attempt.Best > SlowMilliseconds || round == 0 ? 1 : RepeatsPerRound);
                attempt.Failure = result.Ok ? null : "gave up";
                Judge(attempt, board, result.Metrics);
                attempt.Add(result.Milliseconds);
            }

            foreach (var (bound, compiled) in comparison.Ours.Zip(comparison.Compiled).Where(p => IsDue(p.First, round)))
            {
                compiled.Failure = bound.Failure;
                (compiled.MainError, compiled.WorstError) = (bound.MainError, bound.WorstError);
                for (var k = 0; k < (bound.Best > SlowMilliseconds ? 1 : RepeatsPerRound); k++)
                {
                    Time(compiled, () => board.Run(system = new CircuitSystem(board.Circuit), compiled.Setting, leaps: compiled.Leaps));
                    Time(bound, () => board.Run(system, bound.Setting, leaps: bound.Leaps));
                }
            }
        }

        Attempt.FindSureErrors(comparison.Ours);
        Attempt.FindSureErrors(comparison.Compiled);
        Attempt.FindSureErrors(comparison.Ida);
        return comparison;
    }

    private static Attempt[] Ladder(double[] settings, bool leaps = false) => Array.ConvertAll(settings, s => new Attempt(s, leaps));

    private static Attempt[] Ours(bool leaps) => leaps ? [.. Ladder(Accuracies), .. Ladder(Accuracies, leaps: true)] : Ladder(Accuracies);

    private static bool IsDue(Attempt attempt, int round) => attempt.Failure is null && (round < SlowRounds || !(attempt.Best > SlowMilliseconds));

    /// <summary>A run whose record is full before its end has no metrics, and its time is of a part only.</summary>
    private static void Judge(Attempt attempt, Board board, TransientResult run)
    {
        if (run.Status == RunStatus.Completed)
        {
            Judge(attempt, board, board.Measure(run));
        }
        else
        {
            attempt.Failure = $"ended early: {run.Status}";
        }
    }

    private static void Judge(Attempt attempt, Board board, double[] values) =>
        (attempt.MainError, attempt.WorstError) = (board.MainError(values), board.WorstError(values));

    private static void Try(Attempt attempt, Action run)
    {
        try
        {
            run();
        }
        catch (SolverException stuck)
        {
            attempt.Failure = stuck.Message;
        }
    }

    private static void Time(Attempt attempt, Action run)
    {
        if (attempt.Failure is null)
        {
            var watch = Stopwatch.StartNew();
            run();
            attempt.Add(watch.Elapsed.TotalMilliseconds);
        }
    }
}
