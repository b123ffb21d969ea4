using BenchmarkDotNet.Running;
using BoardSim.Benchmarks;
using BoardSim.Benchmarks.PeriodicStates;
using BoardSim.Benchmarks.WorkPrecision;

// work-precision [FOLDER] compares the integration methods, periodic-state searching with settling; anything else goes to BenchmarkDotNet (--filter '*Engine*').
if (args is ["work-precision", .. var rest])
{
    WorkPrecisionRun.Run(rest.FirstOrDefault() ?? Path.Combine("out", "work-precision"));
    return;
}

if (args is ["periodic-state"])
{
    PeriodicStateRun.Run();
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(EngineBenchmarks).Assembly).Run(args, BenchmarkSettings.Make());
