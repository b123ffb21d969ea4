namespace BoardSim.Reports.Figures;

/// <summary>
/// A number that belongs beside the traces: a metric's name and its value for each trace, set in a box that covers no trace.
/// </summary>
/// <param name="Name">What the number is, e.g. "Ripple, peak to peak".</param>
/// <param name="Values">Label of a trace and the text of its value with unit, e.g. ("aged capacitor", "28 V").</param>
public sealed record CallOut(string Name, IReadOnlyList<KeyValuePair<string, string>> Values);
