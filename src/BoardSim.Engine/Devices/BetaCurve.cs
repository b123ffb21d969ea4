namespace BoardSim.Engine.Devices;

/// <summary>NTC law with one material constant, <c>R = R25 exp(beta (1/T - 1/T25))</c> (IEC 60539-1, B value; from memory).</summary>
/// <param name="ResistanceAtReference">Resistance in ohms at the reference temperature, positive.</param>
/// <param name="Beta">Material constant in kelvin; positive for an NTC, negative for a PTC.</param>
/// <param name="ReferenceTemperature">Reference temperature in kelvin, positive; 25 degC unless given.</param>
public sealed record BetaCurve(double ResistanceAtReference, double Beta, double ReferenceTemperature = 298.15) : IResistanceCurve
{
    /// <summary>The curve through two points: <c>beta = ln(R1/R2) / (1/T1 - 1/T2)</c>.</summary>
    /// <param name="kelvin1">First temperature in kelvin; it becomes the reference temperature.</param>
    /// <param name="ohms1">Resistance in ohms there.</param>
    /// <param name="kelvin2">Second temperature in kelvin, another one.</param>
    /// <param name="ohms2">Resistance in ohms there.</param>
    public static BetaCurve Through(double kelvin1, double ohms1, double kelvin2, double ohms2) =>
        new(ohms1, Math.Log(ohms1 / ohms2) / (1 / kelvin1 - 1 / kelvin2), kelvin1);

    /// <inheritdoc/>
    public double Resistance(double kelvin) => ResistanceAtReference * Math.Exp(Beta * (1 / kelvin - 1 / ReferenceTemperature));

    /// <inheritdoc/>
    public double RelativeSlope(double kelvin) => -Beta / (kelvin * kelvin);

    /// <inheritdoc/>
    public double Temperature(double ohms) => 1 / (1 / ReferenceTemperature + Math.Log(ohms / ResistanceAtReference) / Beta);

    /// <inheritdoc/>
    public IEnumerable<string> Problems()
    {
        if (!(ResistanceAtReference > 0 && double.IsFinite(ResistanceAtReference)))
        {
            yield return $"resistance {ResistanceAtReference} ohm at the reference temperature; it must be positive and finite.";
        }

        if (!double.IsFinite(Beta) || Beta == 0)
        {
            yield return $"beta {Beta} K; it must be finite and not zero (3000 to 5000 K for an NTC).";
        }

        if (!(ReferenceTemperature > 0 && double.IsFinite(ReferenceTemperature)))
        {
            yield return $"reference temperature {ReferenceTemperature} K; it must be positive.";
        }
    }
}
