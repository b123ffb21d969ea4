namespace BoardSim.Scenarios.Expectations;

/// <summary>A metric or reading under a condition, at one point of the sweep when the expectation says so.</summary>
/// <param name="Name">Name of the metric or reading.</param>
/// <param name="Condition">Name of the condition.</param>
/// <param name="AtText">Point of the sweep as it is written; null when the value is not taken from the sweep.</param>
/// <param name="Statistic">Statistic of the tolerance run as it is written, such as <c>p99</c>; null when the value is not taken from there.</param>
/// <param name="Offset">Where the operand starts in the text of the expectation, from 0.</param>
internal sealed record Operand(string Name, string Condition, string? AtText, string? Statistic, int Offset)
{
    /// <summary>Where the name starts.</summary>
    public required int NameOffset { get; init; }

    /// <summary>Where the condition's name starts.</summary>
    public required int ConditionOffset { get; init; }

    /// <summary>Where the point of the sweep starts.</summary>
    public int AtOffset { get; init; }
}

/// <summary>What two values are compared by.</summary>
internal enum Comparison
{
    Less,
    LessOrEqual,
    Greater,
    GreaterOrEqual,

    /// <summary>Equal within a tolerance.</summary>
    Within,

    /// <summary>Between two bounds.</summary>
    Between,

    /// <summary>Every recorded point of the sweep is higher than the one before.</summary>
    Rises,

    /// <summary>Every recorded point of the sweep is lower than the one before.</summary>
    Falls,

    /// <summary>The metric has a value.</summary>
    HasValue,

    /// <summary>The metric has no value, because what it measures does not happen.</summary>
    HasNoValue,
}

/// <summary>How a second operand on the left goes with the first.</summary>
internal enum Combination
{
    None,
    Ratio,
    Difference,
}

/// <summary>An expectation taken apart. Quantities are still texts: their unit follows from the operands.</summary>
internal sealed record ParsedExpectation
{
    public required Operand Left { get; init; }

    public Combination Combination { get; init; }

    /// <summary>Second operand on the left; null when there is none.</summary>
    public Operand? Second { get; init; }

    public Comparison Comparison { get; init; }

    /// <summary>Operand on the right; null when there is a quantity.</summary>
    public Operand? Right { get; init; }

    /// <summary>Quantity on the right, or lower bound.</summary>
    public Piece? Quantity { get; init; }

    /// <summary>Upper bound, or tolerance.</summary>
    public Piece? Extra { get; init; }

    /// <summary>Share of the drawn boards that have to meet all this, such as <c>99 %</c>; null when the nominal board has to.</summary>
    public Piece? Share { get; init; }

    /// <summary>All operands, left to right.</summary>
    public IEnumerable<Operand> Operands => new[] { Left, Second, Right }.OfType<Operand>();
}

/// <summary>A piece of an expectation's text.</summary>
/// <param name="Text">The piece.</param>
/// <param name="Offset">Where it starts, from 0.</param>
internal sealed record Piece(string Text, int Offset);
