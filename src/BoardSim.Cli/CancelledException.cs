namespace BoardSim.Cli;

/// <summary>The user stopped the run, and there is something to say about what is left of it.</summary>
internal sealed class CancelledException(string message) : OperationCanceledException(message);
