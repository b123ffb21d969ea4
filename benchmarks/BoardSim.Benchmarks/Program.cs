using BenchmarkDotNet.Running;
using BoardSim.Benchmarks;
using BoardSim.Benchmarks.WorkPrecision;

// work-precision [FOLDER] compares the integration methods; anything else goes to BenchmarkDotNet (--filter '*Engine*').
if (args is ["work-precision", .. var rest])
{
    WorkPrecisionRun.Run(rest.FirstOrDefault() ?? Path.Combine("out", "work-precision"));
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(EngineBenchmarks).Assembly).Run(args, BenchmarkSettings.Make());
