namespace BoardSim.Engine.Circuits;

/// <summary>The circuit cannot be compiled or has no unique solution by its structure; the message names nodes and parts and says what to change.</summary>
public sealed class CircuitException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="message">What is wrong, with node and part, and what would be right.</param>
    public CircuitException(string message)
        : this([message])
    {
    }

    /// <summary>Creates the exception for several findings at once.</summary>
    /// <param name="findings">One sentence or two each.</param>
    public CircuitException(IReadOnlyList<string> findings)
        : base(string.Join(Environment.NewLine, findings))
    {
        Findings = findings;
    }

    /// <summary>The findings, one message each.</summary>
    public IReadOnlyList<string> Findings { get; }
}
