using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>How long the Euler step is that leads in after a discontinuity: a hundred-thousandth of the step that is hoped for afterwards, unless one of these is in the way.</summary>
public sealed class StepInTests
{
    private const double Accuracy = 1e-3;

    // 12 V in 1 uF behind 1 kohm: nothing happens in a nanosecond, exp(-1e-6) of the voltage is left.
    [Fact]
    public void Calm_circuit_has_the_usual_one()
    {
        var (h, volts) = Take(1e-4, Circuit(new Capacitor("c", "rail", "0", 1e-6), new Resistor("r", "rail", "0", 1e3)), "rail", ("rail", 12));
        Near(1e-9, h, 1e-9);
        Near(12 * Math.Exp(-1e-6), volts, 1e-9);
    }

    // 12 V in 1 uF shorted by 1 mohm: after 100 time constants nothing is left, and the energy of the capacitor is missing from the book, for the current at the end of the step has nothing of it. exp(-t / RC) is followed instead.
    [Fact]
    public void Relaxation_that_it_would_go_across_makes_it_shorter()
    {
        const double tau = 1e-6 * 1e-3;
        var (h, volts) = Take(100 * tau / 1e-5, Circuit(new Capacitor("c", "rail", "0", 1e-6), new Resistor("r", "rail", "0", 1e-3)), "rail", ("rail", 12));
        Assert.InRange(h, 0, 0.01 * tau);
        Near(12 * Math.Exp(-h / tau), volts, 1e-4);
    }

    // Torricelli's law of a tank that runs out, C v' = -k sqrt(v): sqrt(v) = sqrt(v0) (1 - t / T) with T = 2 C sqrt(v0) / k (separation of variables). The tangent at 4 V leads below zero, where the law is no number, for every step longer than T.
    [Fact]
    public void Step_at_which_Newton_fails_is_made_shorter()
    {
        const double farads = 1e-6, k = 4e3, empty = 2 * farads * 2 / k;
        var circuit = Circuit(new Capacitor("c", "tank", "0", farads), new Conductor("hole", "tank", "0", v => (k * Math.Sqrt(v), k / (2 * Math.Sqrt(v)))));
        var (h, volts) = Take(100 * empty / 1e-5, circuit, "tank", ("tank", 4));
        Assert.InRange(h, 0, 0.1 * empty);
        Near(4 * Math.Pow(1 - h / empty, 2), volts, 1e-4);
    }

    // The island of NoiseLimitTests: below 0.24 us rounding moves it by more than 1.5e-3 of its 100 V; at a nanosecond by up to 36 V.
    [Fact]
    public void Rounding_that_would_drown_it_makes_it_longer()
    {
        var (h, volts) = Take(1e-4, Island(), "b", ("a", 400), ("b", 100));
        Assert.InRange(h, 0.1e-6, 1e-6);
        Near(100, volts, 1.5e-3);
    }

    // Beside a rail that relaxes within a microsecond the longer one would miss that; then the noisy one.
    [Fact]
    public void Rounding_does_not_lead_it_across_a_relaxation()
    {
        var circuit = Island();
        circuit.Add(new Capacitor("c", "rail", "0", 1e-6));
        circuit.Add(new Resistor("r", "rail", "0", 1));
        var (h, volts) = Take(1e-4, circuit, "rail", ("a", 400), ("b", 100), ("rail", 12));
        Near(1e-9, h, 1e-9);
        Near(12 * Math.Exp(-1e-3), volts, 1e-6);
    }

    private static Circuit Island() => Circuit(new Capacitor("bulk", "a", "b", 1e-4), new Resistor("leak", "b", "ref", 1e9), new VoltageSource("v", "ref", "0", 100));

    private static (double Length, double Volts) Take(double hoped, Circuit circuit, string node, params (string Node, double Volts)[] start)
    {
        foreach (var (name, volts) in start)
        {
            circuit.InitialVoltages[name] = volts;
        }

        var system = new CircuitSystem(circuit);
        var options = new TransientOptions { Stop = 1, Accuracy = Accuracy };
        var counters = new SolverCounters();
        var stages = new StageSolver(system, new NewtonSolver(system, counters) { CurrentScale = 1, CurrentTolerance = 1e-9 }, StageMethod.Esdirk3, new bool[system.Size + 1]);
        var scale = new ErrorScale(system);
        InitialState.Charge(system, stages.StartCharge);
        system.Loads.X.CopyTo(stages.Values[0], 0);
        scale.Update(stages.Values[0], 0.1 * Accuracy, 1);
        var noise = new NoiseLimit(stages, scale, options, 0.1 * Accuracy);
        var stepIn = new EulerStepIn(system, stages, new EnergyBook(system.EnergySign), scale, noise, counters, options);
        var h = stepIn.Take(0, hoped, 1, 1e-15);
        return (h, stages.Values[^1][system.NodeIndex(node)]);
    }
}
