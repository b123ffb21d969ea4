namespace BoardSim.Scenarios;

/// <summary>One value of the block, or the severity of one fault, stepped through a range.</summary>
public sealed record SweepSpec
{
    /// <summary>Key of the value; null when a severity is swept.</summary>
    public string? Value { get; init; }

    /// <summary>Id of the fault whose severity is swept; null when a value is swept. It is swept in the conditions that have the fault.</summary>
    public string? Fault { get; init; }

    /// <summary>What figures call the swept quantity.</summary>
    public required string Label { get; init; }

    /// <summary>Symbol of the unit of the points.</summary>
    public required string Unit { get; init; }

    /// <summary>The points in SI units (a temperature in kelvin), in the order of the file.</summary>
    public required IReadOnlyList<double> Points { get; init; }

    /// <summary>True when the points are spaced evenly on a logarithmic axis.</summary>
    public bool Logarithmic { get; init; }

    /// <summary>Names of the conditions that are swept, in the order of the scenario.</summary>
    public required IReadOnlyList<string> Conditions { get; init; }

    /// <summary>Names of the metrics and readings that are recorded.</summary>
    public required IReadOnlyList<string> Record { get; init; }
}
