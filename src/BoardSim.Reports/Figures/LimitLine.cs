namespace BoardSim.Reports.Figures;

/// <summary>A horizontal line at a limit, e.g. what a scenario expects or a data sheet allows.</summary>
/// <param name="Label">Text beside the line, e.g. "at most 12 V".</param>
/// <param name="Value">Value in the SI unit of the panel's axis.</param>
public sealed record LimitLine(string Label, double Value);
