namespace BoardSim.Ageing;

/// <summary>
/// Life of electrolytic capacitors by the ten-degree rule, <c>L = L0 2^((T0 - T) / 10 K)</c> (makers' application notes, for example TDK's primer on
/// electrolytic capacitors; Arrhenius's law near 370 K with an activation energy of about 0.8 eV), and what is left of one after a time in service.
/// </summary>
public static class ServiceLife
{
    /// <summary>Largest number of lives that <see cref="Consumed"/> counts to: beyond, nothing is left that could be said.</summary>
    public const double Most = 6;

    private const double Degrees = 10;
    private const int Steps = 400;

    // At the end of its rated life a capacitor may have lost a fifth of its capacitance, and its series resistance may have doubled: the usual
    // clause of an endurance test (from memory). In between and beyond, what dries out is taken to be in proportion to what is left.
    private const double ResistanceAtEnd = 2;
    private const double CapacitanceAtEnd = 0.8;

    /// <summary>Expected life in seconds.</summary>
    /// <param name="rated">Rated life in seconds, positive.</param>
    /// <param name="ratedKelvin">Temperature in kelvin that it is rated for.</param>
    /// <param name="kelvin">Temperature in kelvin in service.</param>
    public static double Expected(double rated, double ratedKelvin, double kelvin) => rated * Math.Pow(2, (ratedKelvin - kelvin) / Degrees);

    /// <summary>Capacitance relative to the new part's after a number of rated lives.</summary>
    /// <param name="lives">Number of lives, zero or more.</param>
    public static double CapacitanceLeft(double lives) => Math.Pow(CapacitanceAtEnd, lives);

    /// <summary>Series resistance relative to the new part's after a number of rated lives.</summary>
    /// <param name="lives">Number of lives, zero or more.</param>
    public static double ResistanceGrown(double lives) => Math.Pow(ResistanceAtEnd, lives);

    /// <summary>
    /// Number of lives that are used up after a time in service under a constant ripple: as the series resistance grows, the ripple heats more and
    /// life goes faster. At most <see cref="Most"/>; a core beyond 125 degC has used them up.
    /// </summary>
    /// <param name="rating">The new capacitor.</param>
    /// <param name="ripple">RMS current in amperes at each frequency in hertz.</param>
    /// <param name="seconds">Time in service, zero or more.</param>
    public static double Consumed(ElectrolyticRating rating, IReadOnlyList<(double Hertz, double Amperes)> ripple, double seconds)
    {
        ArgumentNullException.ThrowIfNull(rating);
        ArgumentOutOfRangeException.ThrowIfNegative(seconds);
        var (lives, step) = (0.0, seconds / Steps);
        for (var k = 0; k < Steps && lives < Most && step > 0; k++)
        {
            // Midpoint rule.
            var half = lives + 0.5 * step * Rate(lives);
            lives += step * Rate(Math.Min(half, Most));
        }

        return Math.Min(lives, Most);

        double Rate(double used)
        {
            var now = rating with { SeriesResistance = rating.SeriesResistance * ResistanceGrown(used) };
            return now.CoreTemperature(ripple) is { } core ? 1 / rating.LifeAt(core) : double.PositiveInfinity;
        }
    }
}
