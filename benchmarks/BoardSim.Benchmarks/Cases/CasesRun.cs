using System.Diagnostics;
using System.Globalization;
using BoardSim.Scenarios;

namespace BoardSim.Benchmarks.Cases;

/// <summary>
/// The verb <c>cases</c>: each workload on one thread and on two, in turns, since a machine that others use as well is not as fast in one minute as in the next; the ratio is
/// the median of the rounds. The wall clock tells it only where nothing else runs here; the processor time per case tells at any load what the threads cost each other: two threads that need
/// no more of it than one are twice as fast on two free processors.
/// </summary>
internal static class CasesRun
{
    private const int Rounds = 5;

    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(5);

    private static readonly int[] Widths = [-36, 7, 9, 9, 7, 10, 10, 7, 9, 9];

    /// <summary>Measures and prints.</summary>
    /// <param name="cases">Cases of each workload; null for its own number.</param>
    /// <param name="only">Part of the name of the workloads that are run; null for all.</param>
    public static void Run(int? cases, string? only)
    {
        Row("workload", "cases", "1: /s", "2: /s", "ratio", "1: ms CPU", "2: ms CPU", "2/CPU", "KB/case", "peak MB");
        foreach (var workload in CaseWorkload.All.Where(w => only is null || w.Name.Contains(only, StringComparison.Ordinal)))
        {
            // What is run often is compiled by and by; that has to be over before anything is measured.
            var count = cases ?? workload.Cases;
            for (var warm = Stopwatch.StartNew(); warm.Elapsed < WarmUp;)
            {
                Measure(workload.Make(Math.Min(count, 200)), 2);
            }

            var scenario = workload.Make(Math.Max(1, count / Rounds));
            var rounds = Enumerable.Range(0, Rounds).Select(_ => (One: Measure(scenario, 1), Two: Measure(scenario, 2))).ToList();
            var (one, two) = (Sum(rounds.Select(r => r.One)), Sum(rounds.Select(r => r.Two)));
            var ratio = rounds.Select(r => r.One.Wall / r.Two.Wall).Order().ElementAt(Rounds / 2);
            count = Rounds * Math.Max(1, count / Rounds);
            using var process = Process.GetCurrentProcess();
            Row(
                workload.Name, Text(count, "0"), Text(count / one.Wall, "0"), Text(count / two.Wall, "0"), Text(ratio, "0.00"),
                Text(1e3 * one.Processor / count, "0.000"), Text(1e3 * two.Processor / count, "0.000"), Text(2 * one.Processor / two.Processor, "0.00"),
                Text(one.Allocated / 1024 / count, "0.0"), Text(process.PeakWorkingSet64 / 1048576.0, "0"));
        }
    }

    private static (double Wall, double Processor, double Allocated) Sum(IEnumerable<(double Wall, double Processor, double Allocated)> parts) =>
        parts.Aggregate((a, b) => (a.Wall + b.Wall, a.Processor + b.Processor, a.Allocated + b.Allocated));

    private static string Text(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);

    private static void Row(params string[] cells) =>
        Console.WriteLine(string.Join(' ', cells.Select((cell, k) => Widths[k] < 0 ? cell.PadRight(-Widths[k]) : cell.PadLeft(Widths[k]))));

    private static (double Wall, double Processor, double Allocated) Measure(Scenario scenario, int threads)
    {
        using var process = Process.GetCurrentProcess();
        GC.Collect();
        var (processor, allocated) = (process.TotalProcessorTime, GC.GetTotalAllocatedBytes(precise: true));
        var watch = Stopwatch.StartNew();
        ScenarioRunner.Run(scenario, new RunOptions { MaxParallel = threads });
        watch.Stop();
        process.Refresh();
        return (watch.Elapsed.TotalSeconds, (process.TotalProcessorTime - processor).TotalSeconds, GC.GetTotalAllocatedBytes(precise: true) - allocated);
    }
}
