namespace BoardSim.Engine.Analyses;

/// <summary>A change of a part's discrete state.</summary>
/// <param name="Time">Instant in seconds.</param>
/// <param name="Part">Name of the part.</param>
/// <param name="State">Its new state, in a word.</param>
public sealed record CircuitEvent(double Time, string Part, string State);
