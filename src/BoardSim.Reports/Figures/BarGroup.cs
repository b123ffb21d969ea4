namespace BoardSim.Reports.Figures;

/// <summary>One number under several conditions.</summary>
/// <param name="Name">What the number is, with test point and reference where it has them.</param>
/// <param name="Unit">Unit of the values; groups of the same unit and like size share a scale.</param>
/// <param name="Bars">One bar per condition.</param>
public sealed record BarGroup(string Name, string Unit, IReadOnlyList<Bar> Bars);
