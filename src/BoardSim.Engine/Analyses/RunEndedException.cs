namespace BoardSim.Engine.Analyses;

/// <summary>Leaves a search that a limit has ended; who catches it keeps what was found before.</summary>
/// <param name="status">Why.</param>
/// <param name="message">For a search that has nothing to keep: what it was about, and what to try.</param>
internal sealed class RunEndedException(RunStatus status, string message) : Exception(message)
{
    public RunStatus Status { get; } = status;

    /// <summary>What callers are told where nothing could be kept.</summary>
    public Exception ToPublic(CancellationToken cancellation) =>
        Status == RunStatus.Cancelled ? new OperationCanceledException(cancellation) : new SolverException(Message);
}
