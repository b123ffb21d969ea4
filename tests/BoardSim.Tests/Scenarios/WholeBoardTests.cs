using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>The demo board as a whole, under values that once stopped the solver.</summary>
public class WholeBoardTests
{
    private static TransientResult Run(double stop, double accuracy, params (string Value, double To)[] values)
    {
        var block = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml")).Make();
        foreach (var (name, to) in values)
        {
            block.Value(name).Set(block, to);
        }

        var system = new CircuitSystem(block.Build().Circuit);
        return Transient.Run(system, new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true }, [Probe.Voltage("rail-12v", "ground")]);
    }

    // Newton went to and fro between both ends of the shunt reference's law as soon as its guess lay two corners beside the solution.
    [Theory]
    [InlineData(1e-2)]
    [InlineData(5e-3)]
    [InlineData(3e-3)]
    public void A_bonded_ground_starts_at_loose_accuracies(double accuracy)
    {
        var run = Run(0.75, accuracy, ("supply.start.resistance", 100e3), ("ground-bond.resistance", 0.1));
        Assert.Equal(RunStatus.Completed, run.Status);
        Assert.Equal(12.1, run.Values(0)[^1], 0.25);
        Assert.True(run.Evidence.PowerBalance < 10 * accuracy);
    }

    // A meter between the bulk capacitor and the board's ground sends a tenth of a milliampere through a bridge diode, whose guard then hovers microvolts below
    // zero. While the search for crossings followed that one, another diode's own crossing in the same step was taken for none, and it stood blocked at 48 V.
    [Fact]
    public void No_bridge_diode_stands_blocked_in_forward_direction()
    {
        var block = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml")).Make();
        block.Value("mains.line.voltage").Set(block, 90.0);
        block.Value("rail-load.resistance").Set(block, 8.0);
        var circuit = block.Build().Circuit;
        var meter = new Resistor("R_meter", "bulk", "ground", 1e9);
        circuit.Add(meter);
        var system = new CircuitSystem(circuit);
        using var run = new TransientRun(system, new TransientOptions { Stop = 1.55, Accuracy = 2e-3, UseInitialConditions = true });
        var (line, neutral, bulk, back) = (system.NodeIndex("bridge.ac"), system.NodeIndex("neutral"), system.NodeIndex("bulk"), system.NodeIndex("return"));
        var (forward, met) = (double.NegativeInfinity, false);
        while (run.Advance())
        {
            if (run.Time > 1.3 && !met)
            {
                met = true;
                run.Change(() => meter.Resistance = 3e3);
            }

            var x = run.State;
            forward = Math.Max(forward, Math.Max(Math.Max(x[line], x[neutral]) - x[bulk], x[back] - Math.Min(x[line], x[neutral])));
        }

        // A conducting silicon diode drops about a volt, a little more in a pulse of amperes (common practice, no source).
        Assert.Equal(RunStatus.Completed, run.Status);
        Assert.InRange(forward, 0.5, 2.5);
    }
}
