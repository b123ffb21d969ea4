using System.Globalization;

namespace BoardSim.Benchmarks.Peers;

/// <summary>Comparisons as Markdown tables.</summary>
internal static class PeersTable
{
    private static readonly double[] Shown = [1e-3, 1e-5];
    private static readonly double[] Levels = [1e-2, 1e-3, 1e-5];

    /// <summary>Every attempt at one circuit.</summary>
    public static void PrintDetails(Comparison c)
    {
        Print($"\n## {c.Board.Name}\n");
        Print($"Main metric {c.Board.Metrics.First(m => m.IsMain).Name}, known to {c.MainFloor:0.0e+0}; all to {c.WorstFloor:0.0e+0}. First run of a process at 1e-3, compilation included: {c.ColdMilliseconds:0.0} ms.\n");
        Print("| program | asked | main error | worst error | median ms | best ms | with compilation |");
        Print("|---|---:|---:|---:|---:|---:|---:|");
        foreach (var (a, compiled) in c.Ours.Zip(c.Compiled))
        {
            Print($"| BoardSim | {Setting(a)} | {Outcome(a)} | {compiled.Median:0.00} |");
        }

        foreach (var a in c.Ida)
        {
            Print($"| IDA | {a.Setting:0e+0} | {Outcome(a)} | |");
        }

        if (c.Ida.Count == 0)
        {
            return;
        }

        Print("\n| IDA asked | main error | IDA ms | ours, main as good | times as fast | ours, all as good | times as fast | interpolated, times as fast |");
        Print("|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var ida in c.Ida.Where(a => a.Ok))
        {
            var (main, all) = (c.AsGood(ida, c.Compiled), c.AsGoodInAll(ida, c.Compiled));
            Print($"| {ida.Setting:0e+0} | {ida.SureMainError:0.0e+0} | {ida.Median:0.00} | {Chosen(main)} | {Ratio(ida, main)} | {Chosen(all)} | {Ratio(ida, all)} | {ida.Median / c.Interpolated(ida.SureMainError):0.0} |");
        }
    }

    /// <summary>The table for the README: the cheapest run of each that is as good as a level in the main metric, and the same settings compared.</summary>
    public static void PrintSummary(IReadOnlyList<Comparison> all)
    {
        Print("\n## At equal error of the main metric\n");
        Print("| circuit, metric | error at most | IDA ms | asked | BoardSim ms | asked | times as fast | best against best |");
        Print("|---|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var (c, level) in all.Where(c => c.Ida.Count > 0).SelectMany(c => Levels.Select(l => (c, l))))
        {
            var (ida, ours) = (c.Within(level, c.Ida), c.Within(level, c.Compiled));
            if (ida is not null && ours is not null)
            {
                Print($"| {c.Board.Name}, {c.Board.Metrics.First(m => m.IsMain).Name} | {Math.Max(level, c.MainFloor):0.0e+0} | {ida.Median:0.0} | {ida.Setting:0e+0} | {ours.Median:0.0} | {Setting(ours)} | {Ratio(ida, ours)} | {ida.Best / ours.Best:0.00} |");
            }
        }

        Print("\n## As good as IDA at its setting\n");
        Print("| circuit, metric | IDA asked | error | IDA ms | BoardSim ms | times as fast | best against best | compiled before | worst metric as good too | first run |");
        Print("|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var c in all)
        {
            foreach (var ida in c.Ida.Where(a => a.Ok && Shown.Contains(a.Setting)))
            {
                var (strict, bound, whole) = (c.AsGood(ida, c.Compiled), c.AsGood(ida, c.Ours), c.AsGoodInAll(ida, c.Compiled));
                Print($"| {c.Board.Name}, {c.Board.Metrics.First(m => m.IsMain).Name} | {ida.Setting:0e+0} | {Math.Max(ida.SureMainError, c.MainFloor):0.0e+0} | {ida.Median:0.0} | {strict?.Median ?? double.NaN:0.0} | {Ratio(ida, strict)} | {(strict is null ? double.NaN : ida.Best / strict.Best):0.00} | {Ratio(ida, bound)} | {Ratio(ida, whole)} | {c.ColdMilliseconds:0} ms |");
            }
        }
    }

    private static string Outcome(Attempt a) =>
        a.Ok ? Text($"{a.MainError:0.0e+0} | {a.WorstError:0.0e+0} | {a.Median:0.00} | {a.Best:0.00}") : Text($"{a.Failure} | | | ");

    private static string Setting(Attempt a) => Text($"{a.Setting:0e+0}{(a.Leaps ? ", leaps" : "")}");

    private static string Chosen(Attempt? a) => a is null ? "none" : Text($"{a.Median:0.00} ms at {Setting(a)}");

    private static string Ratio(Attempt ida, Attempt? ours) => ours is null ? "none" : Text($"{ida.Median / ours.Median:0.00}");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static void Print(FormattableString text) => Console.WriteLine(Text(text));

    private static void Print(string text) => Console.WriteLine(text);
}
