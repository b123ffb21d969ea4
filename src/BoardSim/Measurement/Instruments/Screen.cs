namespace BoardSim.Measurement;

/// <summary>Deflection and position that suit a waveform, as somebody would set them at the knobs.</summary>
internal static class Screen
{
    /// <summary>Share of the height that a trace may fill.</summary>
    private const double Fill = 0.9;

    /// <summary>Smallest step of 1, 2 or 5 per division that holds the trace together with zero, so that its level can be read off.</summary>
    public static double PerDivision(double low, double high)
    {
        var height = Math.Max(high, 0) - Math.Min(low, 0);
        var least = height > 0 ? height / (Fill * Oscilloscope.VerticalDivisions) : 1;
        var decade = Math.Pow(10, Math.Floor(Math.Log10(least)));
        return (least / decade) switch
        {
            <= 1 => decade,
            <= 2 => 2 * decade,
            <= 5 => 5 * decade,
            _ => 10 * decade,
        };
    }

    /// <summary>Middle of the screen in whole tenths of a division, zero where the trace fits about it.</summary>
    public static double Middle(double low, double high, double perDivision)
    {
        var half = perDivision * Oscilloscope.VerticalDivisions / 2;
        var tenth = perDivision / 10;
        return low >= -half && high <= half ? 0 : Math.Round((low + high) / 2 / tenth) * tenth;
    }
}
