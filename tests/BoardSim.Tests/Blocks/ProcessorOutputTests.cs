using BoardSim.Blocks.Processors;
using BoardSim.Faults;

namespace BoardSim.Tests.Blocks;

/// <summary>Faults of the processor's outputs, each of the eight by Ohm's law; an output that the program leaves unused has none.</summary>
public class ProcessorOutputTests
{
    private const double Supply = 5;
    private const double Load = 100e3;

    public static TheoryData<int> Outputs => [.. Enumerable.Range(1, 8)];

    /// <summary>Ids of the faults that are run here, on every output.</summary>
    internal static IEnumerable<string> Faults => Enumerable.Range(1, 8).SelectMany(n => new[] { $"out{n}-weak", $"out{n}-stuck-high", $"out{n}-stuck-low" });

    // At a seventh of the output's limit its resistance is nearly all there is; what bends its characteristic towards the limit can only add to the drop.
    [Theory]
    [MemberData(nameof(Outputs))]
    public void A_weak_output_and_its_load_divide_the_supply(int n)
    {
        var drop = Supply * 5000 / (Load + 5000);
        Assert.InRange(Supply - High(n, $"out{n}-weak", 5000), drop, 1.1 * drop);
        Assert.True(High(n, null, null) > 4.9);
    }

    // What the program's low takes at most goes through the 3 ohm to the supply; the bench's supply has some tenths of an ohm.
    [Theory]
    [MemberData(nameof(Outputs))]
    public void A_stuck_output_loses_what_the_limit_of_the_other_transistor_takes(int n)
    {
        var limit = new ProcessorSupply().SinkLimit;
        Assert.True(Low(n, null, null) < 0.01);
        Assert.InRange(Low(n, $"out{n}-stuck-high", 3), Supply - 5 * limit, Supply);
        Assert.InRange(High(n, $"out{n}-stuck-low", 3), 0, 3.1 * new ProcessorSupply().SourceLimit);
    }

    [Theory]
    [MemberData(nameof(Outputs))]
    public void An_output_that_is_not_used_has_no_faults_and_no_point(int n)
    {
        var block = new ProcessorSupply();
        block.Value($"out{n}.mode").Set(block, "unused");
        Assert.DoesNotContain(block.Faults, f => f.Id.StartsWith($"out{n}-", StringComparison.Ordinal));
        Assert.DoesNotContain(block.Build().TestPoints, p => p.Name == $"out{n}");
    }

    private static double High(int n, string? fault, double? severity) => At(n, "on", fault, severity);

    private static double Low(int n, string? fault, double? severity) => At(n, "off", fault, severity);

    /// <summary>Volts at an output long after the program has begun.</summary>
    private static double At(int n, string mode, string? fault, double? severity)
    {
        var block = new ProcessorSupply { LoadResistance = Load, SupplyVoltage = Supply };
        block.Value($"out{n}.mode").Set(block, mode);
        var board = block.Build();
        var run = Bench.Run(fault is null ? board : board.With(block.Fault(fault), severity), 0, 100e-3);
        return run.V($"out{n}").At(95e-3);
    }
}
