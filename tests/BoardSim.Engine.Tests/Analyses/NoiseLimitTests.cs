using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// An island of 300 V in 100 uF that hangs on a leak of 1 Gohm to 100 V: the last places of its charges (double precision, IEEE 754: 2^-52 of a value at most) are a current over a step, and by the leak's ohms volts of the island as a whole. By hand:
/// each node's row holds C (400 V + 100 V) and its charge C 300 V, 80 mC, whose last place is 1.8e-17 C at most; both nodes' together through 1 Gohm are 3.6e-8 V s over the step, 15e-4 of the 100 V at 0.24 us.
/// </summary>
public sealed class NoiseLimitTests
{
    private const double Leak = 1e9, TooShort = 0.24e-6, Accuracy = 1e-3, LocalAccuracy = 1e-4;

    private readonly CircuitSystem system;
    private readonly StageSolver stages;
    private readonly ErrorScale scale;
    private readonly StageMethod method = StageMethod.Esdirk3;

    public NoiseLimitTests()
    {
        var circuit = Circuit(
            new Capacitor("bulk", "a", "b", 1e-4),
            new Resistor("leak", "b", "ref", Leak),
            new VoltageSource("v", "ref", "0", 100),
            new Resistor("load", "rail", "0", 1e3),
            new Capacitor("c", "rail", "0", 1e-6));
        foreach (var (node, volts) in new[] { ("a", 400.0), ("b", 100.0), ("rail", 12.0) })
        {
            circuit.InitialVoltages[node] = volts;
        }

        system = new CircuitSystem(circuit);
        stages = new StageSolver(system, new NewtonSolver(system, new SolverCounters()), method, new bool[system.Size + 1]);
        scale = new ErrorScale(system);
        InitialState.Charge(system, stages.StartCharge);
        system.Loads.X.CopyTo(stages.Values[0], 0);
        scale.Update(stages.Values[0], LocalAccuracy, 1);
    }

    [Theory]
    [InlineData(0.3, true)]
    [InlineData(3, false)]
    public void Step_is_not_made_shorter_where_rounding_moves_an_island_by_more_than_the_step_does(double lengths, bool forbidden)
    {
        // The diagonal's share of the step is what the rounding is divided by.
        var h = lengths * TooShort / method.Gamma;
        var noise = Step(h, stop: 10);
        Assert.Equal(forbidden, noise.Forbids(h));
        Assert.Equal(forbidden, noise.Forbids(h, Wrong("b"), 1));
    }

    [Fact]
    public void Rail_beside_it_may_have_steps_as_short_as_it_needs()
    {
        var h = 0.01 * TooShort;
        var noise = Step(h, stop: 10);
        Assert.True(noise.Forbids(h, Wrong("b"), 1));
        Assert.False(noise.Forbids(h, Wrong("rail"), 1));
        Assert.False(noise.Forbids(h, Wrong("rail", "b"), 1));
    }

    // What lasts longer than a millionth of the run is seen.
    [Fact]
    public void Step_that_shows_is_made_shorter_whatever_rounding_makes_of_it()
    {
        var h = 0.3 * TooShort / method.Gamma;
        Assert.False(Step(h, stop: 0.1).Forbids(h));
    }

    [Fact]
    public void Next_attempt_is_no_shorter_than_rounding_allows()
    {
        // Twice as long as the limit: half of it is as short as the next may be.
        var h = 2 * TooShort / method.Gamma;
        var noise = Step(h, stop: 10);
        Assert.False(noise.Forbids(h, Wrong("b"), 1));
        Assert.InRange(noise.Shorter(0.1), 0.3, 0.7);
        Assert.Equal(0.1, noise.Shorter(0.1), 1e-12);
    }

    private double[] Wrong(params string[] nodes)
    {
        var wrong = new double[system.Size + 1];
        foreach (var node in nodes)
        {
            wrong[system.NodeIndex(node)] = 10;
        }

        return wrong;
    }

    private NoiseLimit Step(double h, double stop)
    {
        Assert.True(stages.TryStep(0, h, scale.Weight, out _, out _));
        return new NoiseLimit(stages, scale, new TransientOptions { Stop = stop, Accuracy = Accuracy }, LocalAccuracy);
    }
}
