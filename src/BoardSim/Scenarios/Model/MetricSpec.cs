namespace BoardSim.Scenarios;

/// <summary>A number that is derived from an observation.</summary>
public sealed record MetricSpec
{
    /// <summary>Name, lower case with hyphens, unique among observations and metrics.</summary>
    public required string Name { get; init; }

    /// <summary>What figures and tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>Id of the metric that is taken, such as <c>ripple-peak-to-peak</c>.</summary>
    public required string Take { get; init; }

    /// <summary>Name of the observation.</summary>
    public required string Of { get; init; }

    /// <summary>Name of a second observation, for metrics that need two (power factor: voltage and current); else null.</summary>
    public string? And { get; init; }

    /// <summary>Window it is taken over.</summary>
    public WindowSpec Window { get; init; } = WindowSpec.Whole;

    /// <summary>Parameters of the metric in SI units, by key.</summary>
    public IReadOnlyDictionary<string, double> Parameters { get; init; } = new Dictionary<string, double>();
}
