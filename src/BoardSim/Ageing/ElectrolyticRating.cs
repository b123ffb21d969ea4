namespace BoardSim.Ageing;

/// <summary>What a data sheet says of an electrolytic capacitor, and where it sits.</summary>
public sealed record ElectrolyticRating
{
    /// <summary>Series resistance in ohms at 25 degC and <see cref="Frequency"/>, positive.</summary>
    public required double SeriesResistance { get; init; }

    /// <summary>Frequency in hertz that the series resistance is given at, positive.</summary>
    public double Frequency { get; init; } = ElectrolyticResistance.ReferenceFrequency;

    /// <summary>Temperature around the capacitor in kelvin.</summary>
    public required double Ambient { get; init; }

    /// <summary>Thermal resistance from the winding's core to the air, in kelvin per watt, positive.</summary>
    public required double ThermalResistance { get; init; }

    /// <summary>Rated endurance in seconds at <see cref="RatedTemperature"/>, positive.</summary>
    public double RatedLife { get; init; } = 2000 * 3600.0;

    /// <summary>Temperature in kelvin that the endurance is given for, taken as the core's.</summary>
    public double RatedTemperature { get; init; } = 378.15;

    /// <summary>Series resistance in ohms at a temperature and a frequency.</summary>
    /// <param name="kelvin">Temperature of the core in kelvin.</param>
    /// <param name="hertz">Frequency in hertz.</param>
    public double ResistanceAt(double kelvin, double hertz) =>
        SeriesResistance * ElectrolyticResistance.Factor(kelvin, hertz) / ElectrolyticResistance.Factor(ElectrolyticResistance.ReferenceTemperature, Frequency);

    /// <summary>
    /// Temperature of the core in kelvin: that of the air and what the ripple heats, <c>T = Ta + Rth (sum of I^2 ESR(T, f))</c> (loss times thermal resistance:
    /// makers' application notes). Resistance falls as it gets warmer, so there is exactly one such temperature. Null beyond 125 degC, where no such
    /// capacitor lasts.
    /// </summary>
    /// <param name="ripple">RMS current in amperes at each frequency in hertz.</param>
    public double? CoreTemperature(IReadOnlyList<(double Hertz, double Amperes)> ripple)
    {
        ArgumentNullException.ThrowIfNull(ripple);
        var (low, high) = (Ambient, ElectrolyticResistance.Hottest);
        if (Heated(high) > high || low > high)
        {
            return null;
        }

        while (high - low > 1e-6)
        {
            var middle = 0.5 * (low + high);
            (low, high) = Heated(middle) > middle ? (middle, high) : (low, middle);
        }

        return high;

        double Heated(double kelvin) => Ambient + ThermalResistance * ripple.Sum(r => r.Amperes * r.Amperes * ResistanceAt(kelvin, r.Hertz));
    }

    /// <summary>Expected life in seconds at a temperature of the core, see <see cref="ServiceLife"/>.</summary>
    /// <param name="core">Temperature of the core in kelvin.</param>
    public double LifeAt(double core) => ServiceLife.Expected(RatedLife, RatedTemperature, core);
}
