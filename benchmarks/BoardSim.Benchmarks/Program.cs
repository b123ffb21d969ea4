using BenchmarkDotNet.Running;
using BoardSim.Benchmarks;
using BoardSim.Benchmarks.Boards;
using BoardSim.Benchmarks.Cases;
using BoardSim.Benchmarks.Exactness;
using BoardSim.Benchmarks.Growth;
using BoardSim.Benchmarks.Peers;
using BoardSim.Benchmarks.PeriodicStates;
using BoardSim.Benchmarks.WorkPrecision;

// Verbs of our own; anything else goes to BenchmarkDotNet (--filter '*Engine*').
switch (args)
{
    case ["work-precision", .. var rest]:
        WorkPrecisionRun.Run(rest.FirstOrDefault() ?? Path.Combine("out", "work-precision"), rest.ElementAtOrDefault(1));
        break;
    case ["peers", var folder, .. var rest]:
        PeersRun.Run(folder, rest.FirstOrDefault(), rest.Length > 1 ? rest[1..] : []);
        break;
    case ["peers"]:
        PeersRun.Run(Board.OwnFolder, null, []);
        break;
    case ["references", var folder, var target, .. var rest]:
        ReferencesRun.Run(folder, target, rest.FirstOrDefault(), rest.Length > 1 ? rest[1..] : []);
        break;
    case ["exactness", .. var rest]:
        ExactnessRun.Run([Board.OwnFolder, .. rest.Take(1)], rest.Length > 1 ? rest[1..] : []);
        break;
    case ["cases", .. var counts]:
        CasesRun.Run(counts.Length > 0 ? int.Parse(counts[0], System.Globalization.CultureInfo.InvariantCulture) : null, counts.ElementAtOrDefault(1));
        break;
    case ["periodic-state"]:
        PeriodicStateRun.Run();
        break;
    case ["targets", .. var rest]:
        TargetsRun.Run(rest.FirstOrDefault() ?? Path.Combine("scenarios", "boards"));
        break;
    case ["growth"]:
        GrowthRun.Run();
        break;
    case [ColdRun.Verb, .. var rest]:
        ColdRun.Run(rest);
        break;
    default:
        BenchmarkSwitcher.FromAssembly(typeof(EngineBenchmarks).Assembly).Run(args, BenchmarkSettings.Make());
        break;
}
