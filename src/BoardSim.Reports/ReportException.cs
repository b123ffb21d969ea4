namespace BoardSim.Reports;

/// <summary>
/// Something asked of a report cannot be done: a folder that cannot be written, a figure that names a signal the run does not
/// have. The message says where, what, and what would be right.
/// </summary>
public sealed class ReportException : Exception
{
    /// <summary>Creates the error.</summary>
    /// <param name="message">Where, what, and what would be right.</param>
    /// <param name="inner">The cause, or null.</param>
    public ReportException(string message, Exception? inner = null)
        : base(message, inner)
    {
    }
}
