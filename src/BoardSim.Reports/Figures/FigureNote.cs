namespace BoardSim.Reports.Figures;

/// <summary>A remark at a position on the horizontal axis, e.g. "relay drops out here".</summary>
/// <param name="Text">The remark.</param>
/// <param name="At">Position in the SI unit of the axis; null for the edge.</param>
public sealed record FigureNote(string Text, double? At);
