using BoardSim.Blocks;
using BoardSim.Blocks.Converters;
using BoardSim.Blocks.Rectifiers;

namespace BoardSim.Benchmarks.PeriodicStates;

/// <summary>The verb <c>periodic-state</c>: searching the periodic state against settling into it, side by side in one run.</summary>
internal static class PeriodicStateRun
{
    /// <summary>Measures and prints the table as it grows.</summary>
    public static void Run()
    {
        Console.WriteLine(PeriodicMeasurement.Head);
        foreach (var one in Cases())
        {
            Console.WriteLine(one.Measure());
        }
    }

    private static IEnumerable<PeriodicCase> Cases()
    {
        var resistor = new BridgeBulk { Limiter = InrushLimiter.Resistor, LimiterResistance = 4 };
        yield return Rectifier("rectifier, fixed limiter", resistor);
        yield return Rectifier("rectifier, fixed limiter, 22 ohm ESR", resistor, "bulk-esr-high", 22);
        var thermistor = new BridgeBulk();
        yield return Rectifier("rectifier, limiter warms up", thermistor);
        yield return Rectifier("rectifier, limiter warms up, 22 ohm ESR", thermistor, "bulk-esr-high", 22);
        yield return Rectifier("rectifier, limiter warms up, half-wave", thermistor, "diode-d1-open");
        var flyback = new FlybackOutput();
        yield return Flyback("flyback, discontinuous", flyback);
        yield return Flyback("flyback, discontinuous, 0.5 ohm ESR", flyback, "output-esr-high", 0.5);
        yield return Flyback("flyback, continuous", new FlybackOutput { LoadResistance = 2, Duty = 0.35 });
        yield return Flyback("flyback, post filter", new FlybackOutput { Filter = PostFilter.ChokeAndCapacitor });
        yield return Flyback("flyback, light load 120 ohm", new FlybackOutput { LoadResistance = 120, Duty = 0.07 });
    }

    private static PeriodicCase Rectifier(string name, BridgeBulk block, string? fault = null, double? severity = null) => new(name, Make(block, fault, severity), "bulk");

    private static PeriodicCase Flyback(string name, FlybackOutput block, string? fault = null, double? severity = null) => new(name, Make(block, fault, severity), "output");

    private static BoardSim.Boards.Board Make(Block block, string? fault, double? severity) =>
        fault is null ? block.Build() : block.Fault(fault).Apply(block.Build(), severity);
}
