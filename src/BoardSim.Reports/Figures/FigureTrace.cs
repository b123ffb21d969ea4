namespace BoardSim.Reports.Figures;

/// <summary>One line of a figure. The same label in two panels is drawn in the same style.</summary>
/// <param name="Label">What the legend says, e.g. the name of the condition.</param>
/// <param name="X">Positions in the SI unit of the figure's horizontal axis, never falling; equal neighbours are a jump.</param>
/// <param name="Y">Values in the SI unit of the panel's axis, as many as positions; NaN leaves a gap.</param>
/// <param name="Role">Healthy or faulty.</param>
/// <param name="Markers">True to mark each point, as for a sweep of few points.</param>
public sealed record FigureTrace(
    string Label, IReadOnlyList<double> X, IReadOnlyList<double> Y, TraceRole Role, bool Markers = false);
