namespace BoardSim.Scenarios;

/// <summary>One state of the board that is run: healthy, or with faults.</summary>
public sealed record ConditionSpec
{
    /// <summary>Name of the one condition without faults that every scenario has.</summary>
    public const string Healthy = "healthy";

    /// <summary>Name, lower case with hyphens, unique in the scenario.</summary>
    public required string Name { get; init; }

    /// <summary>What figures and tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>Faults, applied in this order.</summary>
    public IReadOnlyList<FaultSetting> Faults { get; init; } = [];

    /// <summary>Values of the block for this condition alone; they go before those of the scenario.</summary>
    public IReadOnlyList<ValueSetting> Values { get; init; } = [];

    /// <summary>True for the condition that the others are compared with.</summary>
    public bool IsHealthy => Name == Healthy;
}

/// <summary>A fault as a condition sets it.</summary>
/// <param name="Fault">Id of the fault, such as <c>bulk-esr-high</c>.</param>
/// <param name="Severity">Severity in the fault's unit; null takes the fault's default, or the fault has none.</param>
/// <param name="Text">What the file says, such as <c>2 ohm</c> or <c>default</c>.</param>
public sealed record FaultSetting(string Fault, double? Severity, string Text);
