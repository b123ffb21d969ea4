using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Nodes that swing alike are drawn alike between the points.</summary>
public sealed class CompanionTests
{
    // An island of two nodes that hangs on a capacitor follows the source as a whole, and the capacitor on it keeps its 11 V, whose charge has nowhere to go. The source turns up at the end of the step, behind the inner stages, so that
    // the cubic dives to -2 V: 200 tolerances of the one node, where it is replaced by a straight line, and 20 of the other, where it would be left.
    [Theory]
    [InlineData("ESDIRK3")]
    [InlineData("ESDIRK4")]
    public void Voltage_between_nodes_of_a_floating_island_stays_what_it_is(string name)
    {
        const double h = 1e-3, begin = SingleSteps.Entry;
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", new PiecewiseLinearWaveform([begin + 0.95 * h, begin + h], [0, 1])),
            new Capacitor("hung", "in", "a", 1e-9) { InitialVoltage = 0 },
            new Capacitor("kept", "b", "a", 1e-6) { InitialVoltage = 11 });
        var method = StageMethod.All.Single(m => m.Name == name);
        var (system, stages, tight) = SingleSteps.Prepare(circuit, method);
        var (a, b) = (system.NodeIndex("a"), system.NodeIndex("b"));
        Assert.True(stages.TryStep(begin, h, tight, out _, out _));

        var weight = new double[tight.Length];
        (weight[a], weight[b]) = (100, 10);
        stages.FindRates(begin + h, h, method.Gamma * h, weight);
        var x = new double[tight.Length];
        foreach (var part in new[] { 0.25, 0.5, 0.75 })
        {
            stages.Interpolate(part, h, x);
            Assert.Equal(part, x[a], 1e-6);
            Assert.Equal(11, x[b] - x[a], 1e-6);
        }
    }
}
