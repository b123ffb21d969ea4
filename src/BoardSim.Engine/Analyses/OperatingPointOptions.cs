namespace BoardSim.Engine.Analyses;

/// <summary>Settings of an operating point.</summary>
public sealed record OperatingPointOptions
{
    /// <summary>Relative accuracy of every unknown, 1e-12 to 1e-3.</summary>
    public double Accuracy { get; init; } = 1e-9;

    /// <summary>Newton iterations per attempt, 10 or more.</summary>
    public int IterationLimit { get; init; } = 100;

    /// <summary>Time in seconds at which time-dependent sources are read when they have no DC value of their own.</summary>
    public double Time { get; init; }

    /// <summary>What may end the search early; nothing unless set.</summary>
    public RunLimits Limits { get; init; } = new();

    /// <summary>Start values in volts for some nodes, to pick one of several solutions (SPICE: .nodeset), by node name.</summary>
    public IReadOnlyDictionary<string, double>? Guess { get; init; }
}
