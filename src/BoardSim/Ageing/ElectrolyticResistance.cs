namespace BoardSim.Ageing;

/// <summary>
/// How a wet aluminium electrolytic capacitor's series resistance follows temperature and frequency. It has three parts: the electrolyte in its paper, which
/// follows the temperature; the oxide, whose loss per cycle is constant, so that its resistance falls with the frequency; foil and leads, which follow
/// neither (Cornell Dubilier, Aluminum Electrolytic Capacitor Application Guide, section on ESR: <c>ESR = DF / (2 pi f C) + ESR at high frequency</c>; Albertsen,
/// Electrolytic Capacitor Lifetime Estimation, Bodo's Power 2010, equation 1). The shares are typical; parts spread.
/// </summary>
public static class ElectrolyticResistance
{
    /// <summary>Frequency in hertz that catalogues give series resistance and ripple current at.</summary>
    public const double ReferenceFrequency = 120;

    /// <summary>Temperature in kelvin that they give the series resistance at.</summary>
    public const double ReferenceTemperature = 298.15;

    /// <summary>Hottest temperature in kelvin that the law is stated for.</summary>
    public const double Hottest = 398.15;

    private const double Coldest = 218;

    // Shares at the reference.
    private const double Oxide = 0.3;
    private const double Foil = 0.1;
    private const double Electrolyte = 0.6;

    // Conduction of the electrolyte follows its viscosity (Vogel's law). The two constants put the whole curve into the
    // middle of the band that makers give: 35 to 50 % below the value at 25 degC when hot, 10 to 100 times above it at
    // -40 degC (Cornell Dubilier, section on ESR; from memory).
    private const double VogelB = 619;
    private const double VogelT0 = 150;

    /// <summary>Series resistance relative to the one at 25 degC and 120 Hz: 0.54 at 105 degC, 16 at -40 degC, 0.7 at 100 kHz. Parts spread around this
    /// by a factor of about two at the cold end and by a tenth at the hot end.</summary>
    /// <param name="kelvin">Temperature of the winding in kelvin, 218 K (-55 degC) to 398.15 K (125 degC).</param>
    /// <param name="hertz">Frequency in hertz, positive.</param>
    /// <exception cref="ArgumentOutOfRangeException">Temperature or frequency is outside that range.</exception>
    public static double Factor(double kelvin, double hertz = ReferenceFrequency)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(kelvin, Coldest);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(kelvin, Hottest);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hertz);
        return Oxide * ReferenceFrequency / hertz + Foil
            + Electrolyte * Math.Exp(VogelB * (1 / (kelvin - VogelT0) - 1 / (ReferenceTemperature - VogelT0)));
    }
}
