namespace BoardSim.Faults;

/// <summary>A fault cannot be applied as asked; the message names the fault, the value and what would be right.</summary>
public sealed class FaultException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="message">What is wrong and what would be right.</param>
    public FaultException(string message)
        : base(message)
    {
    }
}
