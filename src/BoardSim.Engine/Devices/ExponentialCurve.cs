namespace BoardSim.Engine.Devices;

/// <summary>NTC law with four constants, <c>R = R25 exp(A + B/T + C/T^2 + D/T^3)</c>, a form in which makers publish fits.</summary>
/// <param name="ResistanceAtReference">Resistance in ohms at 25 degC, positive.</param>
/// <param name="A">Constant A.</param>
/// <param name="B">Constant B in K.</param>
/// <param name="C">Constant C in K^2.</param>
/// <param name="D">Constant D in K^3.</param>
public sealed record ExponentialCurve(double ResistanceAtReference, double A, double B, double C, double D) : IResistanceCurve
{
    // A maker's fit spans less; outside it the polynomial may turn back.
    private const double Coldest = 200;
    private const double Hottest = 600;

    /// <inheritdoc/>
    public double Resistance(double kelvin)
    {
        // Beyond the span of any fit the curve is continued with the slope it has there, in ln R over 1/T.
        var x = 1 / kelvin;
        var at = Math.Clamp(x, 1 / Hottest, 1 / Coldest);
        return ResistanceAtReference * Math.Exp(A + at * (B + at * (C + at * D)) + (x - at) * Slope(at));
    }

    /// <inheritdoc/>
    public double RelativeSlope(double kelvin) => -Slope(Math.Clamp(1 / kelvin, 1 / Hottest, 1 / Coldest)) / (kelvin * kelvin);

    /// <summary>Temperature in kelvin at which the curve has a resistance, to within rounding; by Newton's method in 1/T.</summary>
    /// <param name="ohms">Resistance in ohms, positive.</param>
    public double Temperature(double ohms) => CurveInverse.Temperature(this, ohms);

    /// <inheritdoc/>
    public IEnumerable<string> Problems()
    {
        if (!(ResistanceAtReference > 0 && double.IsFinite(ResistanceAtReference)))
        {
            yield return $"resistance {ResistanceAtReference} ohm at 25 degC; it must be positive and finite.";
        }

        var monotone = Enumerable.Range(0, 81).Select(k => 1 / (Coldest + 5.0 * k)).All(x => Slope(x) > 0);
        if (!monotone)
        {
            yield return $"constants {A}, {B}, {C}, {D}; the resistance must fall with the temperature all the way from {Coldest} K to {Hottest} K.";
        }
    }

    private double Slope(double x) => B + x * (2 * C + x * 3 * D);
}
