namespace BoardSim.Scenarios;

/// <summary>A condition of a scenario could not be computed. The inner exception is that of the engine: a
/// <see cref="Engine.Circuits.CircuitException"/> for a circuit without a unique solution, a
/// <see cref="Engine.Analyses.SolverException"/> when the solver gave up.</summary>
public sealed class ScenarioRunException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="scenario">Id of the scenario.</param>
    /// <param name="condition">Name of the condition, with the point of the sweep if there is one.</param>
    /// <param name="inner">What went wrong.</param>
    public ScenarioRunException(string scenario, string condition, Exception inner)
        : base($"{scenario}, condition {condition}: {inner?.Message}", inner)
    {
        Scenario = scenario;
        Condition = condition;
    }

    /// <summary>Id of the scenario.</summary>
    public string Scenario { get; }

    /// <summary>Name of the condition, with the point of the sweep if there is one, such as <c>aged at 0.8 ohm</c>.</summary>
    public string Condition { get; }
}
