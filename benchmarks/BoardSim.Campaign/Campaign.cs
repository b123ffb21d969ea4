using System.Diagnostics;
using BoardSim.Campaign.Drawing;
using BoardSim.Campaign.Judging;
using BoardSim.Engine.Netlists;

namespace BoardSim.Campaign;

/// <summary>What to draw and run.</summary>
internal sealed record CampaignPlan(ulong Seed, int From, int Count, int Threads, string? Block, string? File, bool Each);

/// <summary>Runs many cases and tells what became of them.</summary>
internal static class Campaign
{
    public static int Draw(CampaignPlan plan, TextWriter output, TextWriter error) =>
        Run(plan.Count, plan.Threads, k => CaseDraw.Draw(plan.Seed, (ulong)(plan.From + k), plan.Block), plan.File, plan.Each, output, error);

    public static int Replay(string file, int threads, bool netlist, bool each, TextWriter output, TextWriter error)
    {
        var cases = CaseFile.Read(file);
        foreach (var drawn in netlist ? cases : [])
        {
            output.WriteLine(NetlistWriter.Write(CaseBoard.Build(drawn).Circuit, []));
        }

        return Run(cases.Count, threads, k => cases[k], null, each, output, error);
    }

    private static int Run(int count, int threads, Func<int, CampaignCase> draw, string? file, bool each, TextWriter output, TextWriter error)
    {
        var watch = Stopwatch.StartNew();
        var results = new CaseResult[count];
        var done = 0;
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads }, k =>
        {
            results[k] = CaseRun.Run(draw(k));
            if (each)
            {
                // A whole line at once: TextWriter.Synchronized of the console keeps lines of several threads apart.
                output.WriteLine(CampaignTable.Row(results[k]));
            }

            if (Interlocked.Increment(ref done) % 500 == 0)
            {
                error.WriteLine($"{done} of {count} after {watch.Elapsed.TotalSeconds:F0} s");
            }
        });

        if (file is not null)
        {
            CaseFile.Write(file, results.Where(r => r.Verdict == Verdict.Failed));
        }

        CampaignTable.Write(results, watch.Elapsed, output);
        return Array.Exists(results, r => r.Verdict == Verdict.Failed) ? 1 : 0;
    }
}
