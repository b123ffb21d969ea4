namespace BoardSim.Scenarios;

/// <summary>An expectation and whether it holds.</summary>
public sealed record ExpectationResult
{
    /// <summary>The expectation as the file says it.</summary>
    public required string Text { get; init; }

    /// <summary>The reason behind it.</summary>
    public required string Why { get; init; }

    /// <summary>True when it holds.</summary>
    public required bool Holds { get; init; }

    /// <summary>Value of the left-hand side; NaN when it has none.</summary>
    public required double Value { get; init; }

    /// <summary>Unit of <see cref="Value"/>; empty for a ratio.</summary>
    public required string Unit { get; init; }

    /// <summary>What was found, in words, such as <c>12.4 V</c> or <c>no value: the output never fell below 4.75 V</c>.</summary>
    public required string Found { get; init; }

    /// <summary>Share of the drawn boards that meet the expectation, 0 to 1 (the yield); a board that could not be computed does not meet it. Null when
    /// the expectation does not speak of recorded numbers of a tolerance run alone.</summary>
    public double? Yield { get; init; }
}
