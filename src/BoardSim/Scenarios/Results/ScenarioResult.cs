namespace BoardSim.Scenarios;

/// <summary>Everything that came out of a scenario.</summary>
public sealed record ScenarioResult
{
    /// <summary>The scenario that was run.</summary>
    public required Scenario Scenario { get; init; }

    /// <summary>Title of the block.</summary>
    public required string BlockTitle { get; init; }

    /// <summary>What was observed, in the order of the scenario.</summary>
    public required IReadOnlyList<SignalInfo> Signals { get; init; }

    /// <summary>Results of each condition in the order of the scenario.</summary>
    public required IReadOnlyList<ConditionResult> Conditions { get; init; }

    /// <summary>Results of the sweep; null when the scenario has none.</summary>
    public SweepResult? Sweep { get; init; }

    /// <summary>Results of the tolerance run; null when the scenario has none.</summary>
    public ToleranceResult? Tolerance { get; init; }

    /// <summary>The expectations and whether they hold, in the order of the scenario.</summary>
    public required IReadOnlyList<ExpectationResult> Expectations { get; init; }

    /// <summary>Safety cautions that must be shown with any of the results; empty only when nothing on the board is on the line side.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>True when every expectation holds.</summary>
    public bool AllHold => Expectations.All(e => e.Holds);

    /// <summary>The result of the condition of that name.</summary>
    /// <param name="condition">Name of the condition.</param>
    /// <exception cref="KeyNotFoundException">There is none.</exception>
    public ConditionResult Condition(string condition) =>
        Conditions.FirstOrDefault(c => c.Name == condition)
        ?? throw new KeyNotFoundException($"The scenario has no condition named {condition}.");
}
