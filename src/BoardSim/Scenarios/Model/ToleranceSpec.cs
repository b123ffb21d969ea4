using BoardSim.Measurement;

namespace BoardSim.Scenarios;

/// <summary>Values of the block that scatter within tolerances, and how many boards are drawn.</summary>
public sealed record ToleranceSpec
{
    /// <summary>The values that scatter, in the order of the file.</summary>
    public required IReadOnlyList<ValueTolerance> Values { get; init; }

    /// <summary>Boards that are drawn at random, 0 or more. Board number k has the same deviations under every condition.</summary>
    public int Samples { get; init; }

    /// <summary>Seed of the random numbers.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>True when every combination of the values' ends is computed as well.</summary>
    public bool Corners { get; init; }

    /// <summary>Names of the conditions that are computed, in the order of the scenario.</summary>
    public required IReadOnlyList<string> Conditions { get; init; }

    /// <summary>Names of the metrics and readings that are recorded.</summary>
    public required IReadOnlyList<string> Record { get; init; }

    /// <summary>Number of corners: two to the power of the number of values, 0 when they are not asked for.</summary>
    public int CornerCount => Corners ? 1 << Values.Count : 0;
}

/// <summary>How far one value may be off.</summary>
/// <param name="Key">The value's key, such as <c>divider.resistance</c>.</param>
/// <param name="Tolerance">Largest deviation: a share of the nominal value, or a difference in the value's unit.</param>
/// <param name="IsRelative">True when it is a share of the nominal value.</param>
/// <param name="Distribution">How values scatter within it.</param>
/// <param name="Text">What the file says, such as <c>1 %</c>.</param>
public sealed record ValueTolerance(string Key, double Tolerance, bool IsRelative, Scatter Distribution, string Text)
{
    /// <summary>The value at a deviation.</summary>
    /// <param name="nominal">The nominal value, in the value's unit.</param>
    /// <param name="deviation">Deviation as a share of the tolerance, -1 to 1.</param>
    public double At(double nominal, double deviation) =>
        IsRelative ? nominal * (1 + deviation * Tolerance) : nominal + deviation * Tolerance;
}
