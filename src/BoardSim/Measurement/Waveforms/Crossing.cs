namespace BoardSim.Measurement;

/// <summary>A passage through a level.</summary>
/// <param name="Time">Instant in seconds at which the level was reached.</param>
/// <param name="Edge"><see cref="Edge.Rising"/> or <see cref="Edge.Falling"/>.</param>
public readonly record struct Crossing(double Time, Edge Edge);
