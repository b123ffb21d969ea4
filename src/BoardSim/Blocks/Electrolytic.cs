namespace BoardSim.Blocks;

/// <summary>How a wet aluminium electrolytic capacitor's series resistance follows its temperature.</summary>
public static class Electrolytic
{
    // Oxide, foil and leads: their share of the series resistance at 25 degC hardly changes with temperature.
    private const double SolidShare = 0.4;
    private const double Reference = 298.15;

    // Conduction of the electrolyte follows its viscosity (Vogel's law). The two constants put the whole curve into the
    // middle of the band that makers give: 35 to 50 % below the value at 25 degC when hot, 10 to 100 times above it at
    // -40 degC (Cornell Dubilier, Aluminum Electrolytic Capacitor Application Guide, section on ESR; from memory).
    private const double VogelB = 619;
    private const double VogelT0 = 150;

    /// <summary>Series resistance at a temperature relative to the one at 25 degC: 1 at 25 degC, 0.54 at 105 degC, 16 at -40 degC.
    /// Parts spread around this by a factor of about two at the cold end and by a tenth at the hot end.</summary>
    /// <param name="kelvin">Temperature of the capacitor in kelvin, 218 K (-55 degC) to 398 K (125 degC).</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public static double SeriesResistanceFactor(double kelvin)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(kelvin, 218);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(kelvin, 398.15);
        return SolidShare + (1 - SolidShare) * Math.Exp(VogelB * (1 / (kelvin - VogelT0) - 1 / (Reference - VogelT0)));
    }
}
