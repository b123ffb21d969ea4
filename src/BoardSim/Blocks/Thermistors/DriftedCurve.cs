using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Thermistors;

/// <summary>
/// A thermistor's curve after it drifted, or that of a part next to the right one: the resistance is multiplied by a factor
/// everywhere and the curve is turned about 25 degC by a shift of its beta.
/// </summary>
/// <param name="Rated">The curve when new.</param>
/// <param name="Factor">Factor on the resistance, positive.</param>
/// <param name="BetaShift">What is added to beta, in kelvin; the sum must stay positive.</param>
public sealed record DriftedCurve(IResistanceCurve Rated, double Factor, double BetaShift = 0) : IResistanceCurve
{
    private const double Reference = 298.15;

    /// <inheritdoc/>
    public double Resistance(double kelvin) => Factor * Rated.Resistance(kelvin) * Math.Exp(BetaShift * (1 / kelvin - 1 / Reference));

    /// <inheritdoc/>
    public double RelativeSlope(double kelvin) => Rated.RelativeSlope(kelvin) - BetaShift / (kelvin * kelvin);

    /// <inheritdoc/>
    public double Temperature(double ohms)
    {
        // ln R is nearly straight in 1/T, so the secant through the last two points closes in at once.
        var kelvin = Rated.Temperature(ohms / Factor);
        for (var k = 0; k < 50 && BetaShift != 0; k++)
        {
            var error = Math.Log(Resistance(kelvin) / ohms);
            kelvin -= error / RelativeSlope(kelvin);
            if (Math.Abs(error) < 1e-13)
            {
                break;
            }
        }

        return kelvin;
    }

    /// <inheritdoc/>
    public IEnumerable<string> Problems()
    {
        foreach (var problem in Rated.Problems())
        {
            yield return problem;
        }

        if (!(Factor > 0 && double.IsFinite(Factor)))
        {
            yield return $"drift factor {Factor}; it must be positive and finite.";
        }

        if (!(RelativeSlope(Reference) < 0))
        {
            yield return $"beta shift {BetaShift} K; the resistance must still fall with the temperature.";
        }
    }
}
