using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
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
}
