namespace BoardSim.Measurement;

/// <summary>A stretch of whole cycles.</summary>
/// <param name="Wave">The stretch.</param>
/// <param name="Cycles">How many cycles it has, at least one.</param>
internal readonly record struct WholeCycles(Waveform Wave, int Cycles)
{
    /// <summary>The last whole cycles of a waveform, as many as there are up to a limit; null when there is not one.</summary>
    public static WholeCycles? Last(Waveform wave, double frequency, int most = int.MaxValue)
    {
        // Windows are computed from frequencies, so the last cycle may be short by a rounding error.
        var cycles = (int)Math.Min(most, Math.Floor(wave.Duration * frequency * (1 + 1e-9)));
        return cycles < 1 ? null : new(wave.Slice(Math.Max(wave.Start, wave.End - cycles / frequency), wave.End), cycles);
    }

    public static MetricResult TooShort(Waveform wave, double frequency) =>
        MetricResult.None($"The window, {Show.Window(wave)}, is shorter than one cycle of {Show.Time(1 / frequency)}.");
}
