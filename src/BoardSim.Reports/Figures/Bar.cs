namespace BoardSim.Reports.Figures;

/// <summary>One bar.</summary>
/// <param name="Label">Name of the condition; the same label is drawn alike in every group.</param>
/// <param name="Value">Value in the group's unit; NaN draws no bar.</param>
/// <param name="Text">What is written on top, e.g. "12.3 V" or "OL".</param>
/// <param name="Role">Healthy or faulty.</param>
public sealed record Bar(string Label, double Value, string Text, TraceRole Role);
