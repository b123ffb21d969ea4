using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>The message of a transient that cannot go on.</summary>
internal static class StuckRun
{
    /// <summary>Names time, step, reason, worst unknown and part.</summary>
    /// <param name="system">The circuit.</param>
    /// <param name="time">Instant in seconds.</param>
    /// <param name="h">Length of the step in seconds.</param>
    /// <param name="worst">Index of the worst unknown, 0 when none is known.</param>
    /// <param name="why">The reason.</param>
    public static SolverException At(CircuitSystem system, double time, double h, int worst, string why) =>
        new($"Transient at t = {time:g6} s with a step of {h:g1} s: " + (LooseNodes.Tell(system, h) is { } loose
            ? $"{loose}."
            : $"{why}; the worst unknown is {(worst > 0 ? system.Describe(worst) : "unknown")}. "
                + "Look there for a jump that nothing limits (add a small resistance or capacitance), or ask for less accuracy."));
}
