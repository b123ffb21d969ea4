namespace BoardSim.Engine.Analyses;

/// <summary>An analysis gave up. The message names analysis, time, step, worst unknown and part, and what to try.</summary>
public sealed class SolverException(string message) : Exception(message);
