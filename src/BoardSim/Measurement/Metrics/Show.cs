using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Values in the sentences that say why a metric has no value.</summary>
internal static class Show
{
    public static string Time(double seconds) => Quantity.FormatShort(seconds, Unit.Second, 4);

    public static string Window(Waveform wave) => $"{Time(wave.Start)} to {Time(wave.End)}";

    public static string Value(double si, Waveform wave) => Quantity.FormatShort(si, wave.Unit, 4);
}
