namespace BoardSim.Reports.Figures;

/// <summary>What an axis shows. Values are in SI units; the drawing picks the prefix (ms, kHz, mV).</summary>
/// <param name="Quantity">Name of the quantity, e.g. "Time" or "Voltage".</param>
/// <param name="Unit">Unit symbol without prefix, e.g. "s", "V", "ohm", "degC"; empty for a plain number.</param>
/// <param name="Logarithmic">True for decades; needs values above zero.</param>
/// <param name="Minimum">Lower end in SI units, or null to take it from the data.</param>
/// <param name="Maximum">Upper end in SI units, or null to take it from the data.</param>
public sealed record FigureAxis(
    string Quantity, string Unit, bool Logarithmic = false, double? Minimum = null, double? Maximum = null)
{
    /// <summary>The usual horizontal axis: time in seconds.</summary>
    public static FigureAxis Time { get; } = new("Time", "s");
}
