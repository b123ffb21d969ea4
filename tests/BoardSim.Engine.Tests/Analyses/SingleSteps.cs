using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Steps of a method one at a time, without the loop that chooses their lengths.</summary>
internal static class SingleSteps
{
    /// <summary>Length of the Euler step in: long enough that rounding of charges leaves the first slope nine digits.</summary>
    public const double Entry = 1e-7;

    /// <summary>Makes a solver that stands at the end of the step in, at <see cref="Entry"/>.</summary>
    /// <param name="circuit">The circuit; it starts from its initial conditions.</param>
    /// <param name="method">The method.</param>
    public static (CircuitSystem System, StageSolver Stages, double[] Tight) Prepare(Circuit circuit, StageMethod method)
    {
        var system = new CircuitSystem(circuit);
        var newton = new NewtonSolver(system, new SolverCounters()) { CurrentScale = 1, CurrentTolerance = 1e-11 };
        var stages = new StageSolver(system, newton, method, new bool[system.Size + 1]);

        // Tolerances far below any error that is measured, so that Newton's own leaves no trace.
        var tight = Enumerable.Repeat(1e12, system.Size + 1).ToArray();
        InitialState.Charge(system, stages.StartCharge);
        system.Loads.X.CopyTo(stages.Values[0], 0);
        Assert.True(stages.TryEuler(0, Entry, tight, out _));
        stages.Advance(smooth: false);
        return (system, stages, tight);
    }
}
