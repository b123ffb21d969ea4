namespace BoardSim.Measurement;

/// <summary>A largest or smallest value and when it was reached first.</summary>
/// <param name="Time">Instant in seconds.</param>
/// <param name="Value">Value in the waveform's unit.</param>
public readonly record struct Extreme(double Time, double Value);
