namespace BoardSim.Measurement;

/// <summary>What starts an oscilloscope's trace.</summary>
/// <param name="Level">Level in the waveform's unit.</param>
/// <param name="Slope">Direction of the crossing.</param>
/// <param name="Position">Share of the screen before the trigger, 0 to 1.</param>
public sealed record ScopeTrigger(double Level, Edge Slope = Edge.Rising, double Position = 0.5);
