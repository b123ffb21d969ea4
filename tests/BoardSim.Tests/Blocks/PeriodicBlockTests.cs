using BoardSim.Blocks;
using BoardSim.Blocks.Converters;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Blocks;

/// <summary>
/// The periodic state of the blocks against a long transient of the same circuit: mean, ripple and peak within a thousandth, found in
/// a small part of the periods. Capacitors are small and heat capacities tiny where that lets the transient settle within the test.
/// </summary>
public class PeriodicBlockTests
{
    private const double Accuracy = 1e-4;
    private const double Agreement = 1e-3;

    [Theory]
    [InlineData(null, null)]
    [InlineData("bulk-esr-high", 20.0)]
    [InlineData("diode-d1-open", null)]
    [InlineData("bulk-capacitance-lost", 0.3)]
    public void Rectifier(string? fault, double? severity)
    {
        var block = new BridgeBulk { Limiter = InrushLimiter.Resistor, LimiterResistance = 4 };
        Agrees(Faulty(block, fault, severity), "bulk", "line", 40, 20);
    }

    // The limiter's temperature is the slow state here, with a time constant of some 40 line cycles instead of thousands.
    [Fact]
    public void Rectifier_with_a_limiter_that_warms_up() =>
        Agrees(new BridgeBulk { LimiterHeatCapacity = 0.01 }.Build(), "bulk", "line", 450, 25);

    // Discontinuous conduction at 12 ohm, continuous at 2 ohm and more duty.
    [Theory]
    [InlineData(12, 0.21, null, null)]
    [InlineData(12, 0.21, "output-esr-high", 0.5)]
    [InlineData(2, 0.35, null, null)]
    [InlineData(2, 0.35, "output-esr-high", 0.5)]
    public void Flyback(double load, double duty, string? fault, double? severity)
    {
        var block = new FlybackOutput { LoadResistance = load, Duty = duty, OutputCapacitance = 47e-6 };
        Agrees(Faulty(block, fault, severity), "output", "output-capacitor", 400, 30);
    }

    // The real converter, whose output needs thousands of periods: they are not computed here, but the search must not take more
    // for it than for the small one.
    [Fact]
    public void Periods_do_not_grow_with_the_time_constant()
    {
        var found = Search(new FlybackOutput().Build(), [Probe.Voltage("rect")], 1e-3);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Assert.InRange(found.Evidence.LeadPeriods + found.Evidence.SearchPeriods, 5, 30);

        // 12 ohm and 1000 uF at constant power: half of their product, 6 ms, less what regulates itself.
        Assert.InRange(found.Evidence.SlowestTimeConstant ?? 0, 2e-3, 7e-3);
    }

    private static Board Faulty(Block block, string? fault, double? severity) =>
        fault is null ? block.Build() : block.Fault(fault).Apply(block.Build(), severity);

    private static PeriodicResult Search(Board board, Probe[] probes, double accuracy) => PeriodicSteadyState.Run(
        new CircuitSystem(board.Clone().Circuit),
        new PeriodicOptions { Accuracy = accuracy, UseInitialConditions = board.StartsAtRest, Periods = 2 },
        probes);

    private static void Agrees(Board board, string point, string current, int settling, int mostPeriods)
    {
        var test = board.TestPoint(point);
        Probe[] probes = [Probe.Voltage(test.Node, test.ReferenceNode), Probe.Current(board.CurrentPoint(current).Part)];
        var found = Search(board, probes, Accuracy);
        Assert.Null(found.Evidence.Reason);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Assert.InRange(found.Evidence.Residual, 0, Accuracy);
        Assert.InRange(found.Evidence.LeadPeriods + found.Evidence.SearchPeriods, 5, mostPeriods);

        var period = found.Evidence.Period;
        var settled = Transient.Run(
            new CircuitSystem(board.Circuit),
            new TransientOptions { Start = settling * period, Stop = (settling + 2) * period, Accuracy = Accuracy, UseInitialConditions = board.StartsAtRest },
            probes);
        var (expected, actual) = (Wave(settled, 0), Wave(found.Waveforms, 0));
        Near.Relative(expected.Mean(), actual.Mean(), Agreement);
        Near.Relative(expected.PeakToPeak(), actual.PeakToPeak(), Agreement);
        Near.Relative(expected.Maximum().Value, actual.Maximum().Value, Agreement);
        Near.Relative(Wave(settled, 1).Rms(), Wave(found.Waveforms, 1).Rms(), Agreement);
    }

    private static Waveform Wave(TransientResult result, int probe) => new("", Unit.Volt, result.Times, result.Values(probe));
}
