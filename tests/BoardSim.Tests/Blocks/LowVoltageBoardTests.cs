using BoardSim.Blocks.Processors;
using BoardSim.Blocks.Regulators;
using BoardSim.Designs;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Tests.Blocks;

/// <summary>Regulator and processor on one board: benches stay behind, faults of one show at the other.</summary>
public class LowVoltageBoardTests
{
    private static readonly Dictionary<string, string> RegulatorWires = new() { ["input"] = "rail", ["output"] = "five", ["ground"] = "gnd" };
    private static readonly Dictionary<string, string> ProcessorWires = new() { ["supply"] = "five", ["ground"] = "gnd", ["out1"] = "command" };

    [Fact]
    public void Rail_that_sinks_below_drop_out_resets_the_processor_behind_the_regulator()
    {
        var design = Design();
        var run = Run(design.Build(), 8, 6, 0.5);
        Assert.Equal(0, run.Values(1)[^1]);

        // 5.2 V less a drop-out of 1.3 V is below 4.3 V.
        Assert.Equal(1, Run(design.Build(), 8, 5.2, 0.5).Values(1)[^1]);
        Assert.Equal(0, Run(design.Build().With(design.Fault("cpu.brown-out-detector-dead")), 8, 5.2, 0.5).Values(1)[^1]);
    }

    [Fact]
    public void Regulator_shorted_through_puts_the_rail_on_the_processor()
    {
        var design = Design();
        var run = Run(design.Build().With(design.Fault("reg.shorted-through")), 8, 8, 0.1);
        Assert.InRange(run.Values(0)[^1], 7.9, 8);
    }

    [Fact]
    public void What_only_the_benches_have_is_not_offered()
    {
        var design = Design();
        Assert.DoesNotContain(design.Values, v => v.Key.Contains("load.", StringComparison.Ordinal) || v.Key.Contains("dip.", StringComparison.Ordinal));
        Assert.DoesNotContain(design.Build().Circuit.Devices, d => d.Name.Contains("V_in", StringComparison.Ordinal) || d.Name.Contains("V_supply", StringComparison.Ordinal));
        Assert.Contains(design.Build().States, s => s.Name == "cpu.reset-count");
    }

    private static BoardDesign Design() => new("low", "Regulator and processor", "gnd",
    [
        new Placement("reg", new Regulator5V(), RegulatorWires),
        new Placement("cpu", new ProcessorSupply { DecouplingEsr = 0.05 }, ProcessorWires),
        new Placement("feed", new LoosePart(LoosePartKind.Resistor, 1e6), new Dictionary<string, string> { ["a"] = "rail", ["b"] = "gnd" }),
        new Placement("lamp", new LoosePart(LoosePartKind.Resistor, 1e3), new Dictionary<string, string> { ["a"] = "command", ["b"] = "gnd" }),
    ]);

    private static TransientResult Run(BoardSim.Boards.Board board, double volts, double sunk, double stop)
    {
        board.Circuit.Add(new VoltageSource("V_rail", "rail", "0", new PiecewiseLinearWaveform([0, 1e-3, 0.2, 0.201, 0.25, 0.251], [0, volts, volts, sunk, sunk, volts])));
        return Transient.Run(
            new CircuitSystem(board.Circuit),
            new TransientOptions { Stop = stop, UseInitialConditions = true },
            [Probe.Voltage("five"), Probe.State("cpu.U1", "reset-count")]);
    }
}
