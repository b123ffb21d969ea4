namespace BoardSim.Engine.Devices;

/// <summary>NTC law <c>1/T = A + B ln R + C (ln R)^3</c> with R in ohms (Steinhart and Hart, Deep-Sea Research 15, 1968, 497).</summary>
/// <param name="A">Constant A in 1/K.</param>
/// <param name="B">Constant B in 1/K, positive.</param>
/// <param name="C">Constant C in 1/K, zero or more (a negative one would bend the curve back).</param>
public sealed record SteinhartHartCurve(double A, double B, double C) : IResistanceCurve
{
    /// <summary>The curve through three points.</summary>
    /// <param name="point1">Temperature in kelvin and resistance in ohms.</param>
    /// <param name="point2">A second point.</param>
    /// <param name="point3">A third point.</param>
    public static SteinhartHartCurve Through(
        (double Kelvin, double Ohms) point1, (double Kelvin, double Ohms) point2, (double Kelvin, double Ohms) point3)
    {
        var (l1, l2, l3) = (Math.Log(point1.Ohms), Math.Log(point2.Ohms), Math.Log(point3.Ohms));
        var (y1, y2, y3) = (1 / point1.Kelvin, 1 / point2.Kelvin, 1 / point3.Kelvin);
        var slope2 = (y2 - y1) / (l2 - l1);
        var slope3 = (y3 - y1) / (l3 - l1);
        var c = (slope3 - slope2) / (l3 - l2) / (l1 + l2 + l3);
        var b = slope2 - c * (l1 * l1 + l1 * l2 + l2 * l2);
        return new(y1 - l1 * (b + l1 * l1 * c), b, c);
    }

    /// <summary>Resistance in ohms: the one real root of the cubic, in closed form after Cardano.</summary>
    /// <param name="kelvin">Temperature in kelvin, positive.</param>
    public double Resistance(double kelvin) => Math.Exp(Log(kelvin));

    /// <inheritdoc/>
    public double RelativeSlope(double kelvin)
    {
        var l = Log(kelvin);
        return -1 / (kelvin * kelvin * (B + 3 * C * l * l));
    }

    /// <inheritdoc/>
    public double Temperature(double ohms)
    {
        var l = Math.Log(ohms);
        return 1 / (A + l * (B + C * l * l));
    }

    /// <inheritdoc/>
    public IEnumerable<string> Problems()
    {
        if (!(double.IsFinite(A) && B > 0 && double.IsFinite(B) && C >= 0 && double.IsFinite(C)))
        {
            yield return $"Steinhart-Hart constants {A}, {B}, {C} 1/K; they must be finite, B positive and C zero or more.";
        }
    }

    private double Log(double kelvin)
    {
        var y = 1 / kelvin - A;
        if (C == 0)
        {
            return y / B;
        }

        // l^3 + p l = q. The larger of Cardano's two cube roots is taken and the other follows from their product -p/3.
        var p = B / C;
        var q = y / C;
        var root = Math.Sqrt(0.25 * q * q + p * p * p / 27);
        var u = Math.Cbrt(0.5 * Math.Abs(q) + root);
        return Math.CopySign(u - p / (3 * u), q);
    }
}
