using BenchmarkDotNet.Attributes;
using BoardSim.Benchmarks.Circuits;
using BoardSim.Engine.Analyses;

namespace BoardSim.Benchmarks;

/// <summary>Transient runs of typical circuits at the default accuracy; the circuit is compiled beforehand, as in a sweep.</summary>
public class EngineBenchmarks
{
    private const double UsualAccuracy = 1e-3;
    private const int LadderSections = 1000;
    private const double LadderStop = 0.4e-3;

    private readonly Yardstick yardstick = new();
    private TimedRun rectifier = null!;
    private TimedRun relay = null!;
    private TimedRun flyback = null!;
    private TimedRun amplifier = null!;
    private TimedRun ladder = null!;

    /// <summary>Compiles the circuits.</summary>
    [GlobalSetup]
    public void Compile()
    {
        rectifier = new TimedRun(BenchmarkCircuits.Read("rectifier"), UsualAccuracy);
        relay = new TimedRun(BenchmarkCircuits.Read("relay-driver"), UsualAccuracy);
        flyback = new TimedRun(BenchmarkCircuits.Read("flyback"), UsualAccuracy);
        amplifier = new TimedRun(BenchmarkCircuits.Read("amplifier"), UsualAccuracy);
        ladder = new TimedRun(BenchmarkCircuits.Ladder(LadderSections), LadderStop, "n10", "n100");
    }

    /// <summary>The baseline.</summary>
    [Benchmark(Baseline = true, Description = "Yardstick")]
    public double Baseline() => yardstick.Measure();

    /// <summary>Bridge and bulk capacitor, three line cycles.</summary>
    [Benchmark(Description = "Line rectifier, 50 ms")]
    public SolverEvidence Rectifier() => rectifier.Run();

    /// <summary>Transistor, coil, free-wheel diode, one operation.</summary>
    [Benchmark(Description = "Relay driver, 60 ms")]
    public SolverEvidence Relay() => relay.Run();

    /// <summary>Coupled windings with leakage, clamp and rectifier, eight periods.</summary>
    [Benchmark(Description = "Flyback, 8 periods")]
    public SolverEvidence Flyback() => flyback.Run();

    /// <summary>The test set's amplifier, twenty cycles.</summary>
    [Benchmark(Description = "Transistor amplifier, 0.2 s")]
    public SolverEvidence Amplifier() => amplifier.Run();

    /// <summary>A thousand sections and as many unknowns.</summary>
    [Benchmark(Description = "RC ladder, 1000 sections")]
    public SolverEvidence Ladder() => ladder.Run();
}
