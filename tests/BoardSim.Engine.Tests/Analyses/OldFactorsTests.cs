using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// Newton's method with the factors of an earlier solve, where they no longer fit: a rectifier that conducted (1 mohm) blocks (1 Mohm). By the old factors what is left of a
/// microampere is a nanovolt; by Ohm's law it is a volt.
/// </summary>
public sealed class OldFactorsTests
{
    private const double Forward = 1e-3, Blocking = 1e6, Seconds = 1, Goal = 0.1;

    private readonly CurrentSource source = new("i", "0", "a", 10e-3);
    private readonly SolverCounters counters = new();
    private CircuitSystem system = null!;
    private NewtonSolver newton = null!;
    private double[] target = [], excitation = [], weight = [];
    private int a;

    public OldFactorsTests() => Take(Rectifier("0"));

    private void Take(params Device[] others)
    {
        system = new CircuitSystem(Circuit([source, new Capacitor("c", "a", "0", 1e-15), .. others]));
        newton = new NewtonSolver(system, counters) { CurrentTolerance = 1e-4 };
        (target, excitation) = (new double[system.Size + 1], new double[system.Size + 1]);

        // A millionth of 1 V.
        weight = [.. Enumerable.Repeat(1e6, system.Size + 1)];
        a = system.NodeIndex("a");
    }

    // A milliampere is the largest current, a ten-thousandth of it may be left: the microampere is too much. Updates of a nanovolt, a hundredth of what may remain, that get no smaller are no rounding.
    [Fact]
    public void Small_updates_that_get_no_smaller_and_leave_current_call_for_new_factors()
    {
        newton.CurrentScale = 1e-3;
        Assert.Equal(-1, VoltageAfterTurning(), 1e-5);
        Assert.InRange(counters.Iterations, 2, 8);
    }

    // An ampere is the largest: the microampere passes for balance, but nothing holds the node any more that would make it next to no voltage.
    [Fact]
    public void Balance_of_currents_is_not_believed_where_nothing_holds_the_node_any_more()
    {
        newton.CurrentScale = 1;
        Assert.Equal(-1, VoltageAfterTurning(), 1e-5);
        Assert.InRange(counters.Iterations, 2, 8);
    }

    // A second node on a tenth of an ohm makes the diagonal of either large, and holds nothing.
    [Fact]
    public void Nodes_that_hang_together_do_not_hold_each_other()
    {
        Take(Rectifier("0"), new Resistor("r", "a", "b", 0.1));
        newton.CurrentScale = 1;
        Assert.Equal(-1, VoltageAfterTurning(), 1e-5);
    }

    // The same where the rectifier leads to a node that something else holds.
    [Fact]
    public void Nor_does_a_rectifier_that_led_to_a_node_which_is_held()
    {
        Take(Rectifier("k"), new Resistor("r", "a", "b", 0.1), new Resistor("rk", "k", "0", 1e-9));
        newton.CurrentScale = 1;
        Assert.Equal(-1, VoltageAfterTurning(), 1e-5);
    }

    private static Conductor Rectifier(string to) => new("d", "a", to, v => v > 0 ? (v / Forward, 1 / Forward) : (v / Blocking, 1 / Blocking));

    /// <summary>Conducts 10 mA forward, then 1 uA backward by the factors of that.</summary>
    private double VoltageAfterTurning()
    {
        Solve();
        Assert.Equal(10e-3 * Forward, system.Loads.X[a], 1e-9);
        counters.Iterations = 0;
        source.Waveform = new DcWaveform(-1e-6);
        Solve();
        return system.Loads.X[a];
    }

    private void Solve()
    {
        system.Excite(0, excitation);
        Assert.True(newton.Solve(true, Seconds, target, excitation, weight, Goal, 40));
    }
}
