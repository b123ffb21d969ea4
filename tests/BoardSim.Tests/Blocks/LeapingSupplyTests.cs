using BoardSim.Blocks.Converters;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Tests.Blocks;

/// <summary>A converter with a clock of its own, its alike periods leapt over, against the run that computes each of them.</summary>
public class LeapingSupplyTests
{
    private static FlybackSupply Quick() => new() { Detail = ConverterDetail.Switching, StartResistance = 30e3, VccCapacitance = 1e-6, SoftStart = 4e-3 };

    private static TransientResult Run(FlybackSupply block, double stop, bool leaps, string? fault = null, double severity = 0)
    {
        var board = block.Build();
        board = fault is null ? board : block.Fault(fault).Apply(board, severity);
        string Node(string point) => board.TestPoints.First(p => p.Name == point).Node;
        Probe[] probes =
        [
            Probe.Voltage(Node("rail")),
            Probe.Voltage(Node("rectified")),
            Probe.Voltage(Node("vcc"), "return"),
            Probe.Voltage("return"),
            Probe.Voltage(Node("drain"), "return"),
        ];
        return Transient.Run(new CircuitSystem(board.Circuit), new TransientOptions { Stop = stop, UseInitialConditions = true, Leaps = leaps }, probes);
    }

    /// <summary>Over a window whose ends fall between samples: on a ramp, a sample more or less at either end is more than a thousandth of the mean.</summary>
    private static (double Mean, double Swing) Over(TransientResult run, int probe, double from, double to)
    {
        var (t, v) = (run.Times, run.Values(probe));
        var (area, low, high) = (0.0, double.PositiveInfinity, double.NegativeInfinity);
        for (var i = 1; i < t.Length; i++)
        {
            var (begin, end) = (Math.Max(t[i - 1], from), Math.Min(t[i], to));
            if (begin < end)
            {
                var slope = (v[i] - v[i - 1]) / (t[i] - t[i - 1]);
                var (first, last) = (v[i - 1] + slope * (begin - t[i - 1]), v[i - 1] + slope * (end - t[i - 1]));
                area += 0.5 * (first + last) * (end - begin);
                (low, high) = (Math.Min(low, Math.Min(first, last)), Math.Max(high, Math.Max(first, last)));
            }
        }

        return (area / (to - from), high - low);
    }

    [Fact]
    public void Leaps_keep_means_and_swings()
    {
        const double stop = 40e-3;
        var (all, leapt) = (Run(Quick(), stop, false), Run(Quick(), stop, true));
        Assert.Equal(0, all.Evidence.PeriodsInterpolated);
        Assert.True(leapt.Evidence.PeriodsInterpolated > 2 * leapt.Evidence.PeriodsComputed);
        Assert.Equal(all.Events.Count, leapt.Events.Count, 3.0);
        foreach (var (from, to) in new[] { (5e-3, 8e-3), (10e-3, 20e-3), (30e-3, 40e-3) })
        {
            foreach (var probe in new[] { 0, 1, 2, 4 })
            {
                var (expected, actual) = (Over(all, probe, from, to), Over(leapt, probe, from, to));
                Assert.Equal(expected.Mean, actual.Mean, 1e-3 * expected.Mean);
                Assert.Equal(expected.Swing, actual.Swing, 1e-3 * Math.Abs(expected.Mean) + 2e-3 * expected.Swing);
            }

            // The primary hangs on a nanofarad: its shift against the secondary is a small difference of large charges.
            Assert.Equal(Over(all, 3, from, to).Mean, Over(leapt, 3, from, to).Mean, 0.05);
        }
    }

    [Fact]
    public void A_leap_passes_no_deadline()
    {
        // The overload timer runs for several hundred periods that are alike, and must not be leapt over; the stopped clock then has no periods at all.
        static FlybackSupply Block()
        {
            var block = Quick();
            (block.SoftStart, block.OverloadDelay) = (0.5e-3, 6e-3);
            return block;
        }

        static List<double> Stops(TransientResult run) => [.. run.Events.Where(e => e.State == "stopped").Select(e => e.Time)];
        var (all, leapt) = (Run(Block(), 30e-3, false, "rail-overloaded", 0.3), Run(Block(), 30e-3, true, "rail-overloaded", 0.3));
        Assert.True(leapt.Evidence.PeriodsInterpolated > 100);
        var (expected, actual) = (Stops(all), Stops(leapt));
        Assert.NotEmpty(expected);
        Assert.Equal(expected.Count, actual.Count);
        foreach (var (e, a) in expected.Zip(actual))
        {
            Assert.Equal(e, a, 2e-3 * e);
        }
    }
}
