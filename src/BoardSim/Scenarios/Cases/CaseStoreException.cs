namespace BoardSim.Scenarios;

/// <summary>A file of finished cases cannot be read or written, or belongs to another run; the message says what to do.</summary>
public sealed class CaseStoreException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="message">What is wrong, and what would be right.</param>
    /// <param name="inner">What the system said; null when there is nothing.</param>
    public CaseStoreException(string message, Exception? inner = null)
        : base(message, inner)
    {
    }
}
