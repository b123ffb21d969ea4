namespace BoardSim.Blocks;

/// <summary>Values of a block are wrong; each finding names the key, the value and what would be right.</summary>
public sealed class BlockException : Exception
{
    /// <summary>Creates the exception for one finding.</summary>
    /// <param name="message">What is wrong and what would be right.</param>
    public BlockException(string message)
        : this([message])
    {
    }

    /// <summary>Creates the exception for all findings at once.</summary>
    /// <param name="findings">One sentence each.</param>
    public BlockException(IReadOnlyList<string> findings)
        : base(string.Join(Environment.NewLine, findings)) => Findings = findings;

    /// <summary>The findings, one sentence each.</summary>
    public IReadOnlyList<string> Findings { get; }
}
