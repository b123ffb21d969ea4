using BenchmarkDotNet.Running;
using BoardSim.Benchmarks;
using BoardSim.Benchmarks.Cases;
using BoardSim.Benchmarks.PeriodicStates;
using BoardSim.Benchmarks.WorkPrecision;

// work-precision [FOLDER] compares the integration methods; what is not told apart below goes to BenchmarkDotNet (--filter '*Engine*').
if (args is ["work-precision", .. var rest])
{
    WorkPrecisionRun.Run(rest.FirstOrDefault() ?? Path.Combine("out", "work-precision"));
    return;
}

// cases [NUMBER [PART OF A NAME]] runs sweeps and tolerance runs on one thread and on two.
if (args is ["cases", .. var counts])
{
    int? number = counts.Length > 0 ? int.Parse(counts[0], System.Globalization.CultureInfo.InvariantCulture) : null;
    CasesRun.Run(number, counts.ElementAtOrDefault(1));
    return;
}

// periodic-state compares searching with settling.
if (args is ["periodic-state"])
{
    PeriodicStateRun.Run();
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(EngineBenchmarks).Assembly).Run(args, BenchmarkSettings.Make());
