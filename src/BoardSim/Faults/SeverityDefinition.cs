namespace BoardSim.Faults;

/// <summary>How bad a fault is, as a physical value: ohms, a fraction of the rated capacitance, a share of the turns.</summary>
public sealed record SeverityDefinition
{
    /// <summary>Unit symbol; empty for a ratio.</summary>
    public required string Unit { get; init; }

    /// <summary>Value when none is given.</summary>
    public required double Default { get; init; }

    /// <summary>Smallest legal value.</summary>
    public required double Minimum { get; init; }

    /// <summary>Largest legal value.</summary>
    public required double Maximum { get; init; }

    /// <summary>What the value is, in words.</summary>
    public required string Description { get; init; }
}
