namespace BoardSim.Scenarios;

/// <summary>One of several equal parts of all cases, for machines that share the work: every n-th case.</summary>
/// <param name="Index">Which part, from 1.</param>
/// <param name="Count">How many parts there are, 1 or more.</param>
public sealed record Shard(int Index, int Count)
{
    /// <summary>True when the part has the case of that number.</summary>
    /// <param name="number">Number of the case, from 0.</param>
    public bool Has(int number) => number % Count == Index - 1;

    /// <summary>The part as it is written: <c>2/8</c>.</summary>
    public override string ToString() => $"{Index}/{Count}";
}
