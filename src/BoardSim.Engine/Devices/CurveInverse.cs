namespace BoardSim.Engine.Devices;

/// <summary>Finds the temperature of a resistance on a monotone curve.</summary>
internal static class CurveInverse
{
    /// <summary>Newton's method for ln R over 1/T, inside a bracket that halves whenever a step would leave it.</summary>
    public static double Temperature(IResistanceCurve curve, double ohms)
    {
        var goal = Math.Log(ohms);
        double low = 1e-5, high = 1;
        var falling = curve.RelativeSlope(300) < 0;
        var x = 1 / 300.0;
        for (var k = 0; k < 200; k++)
        {
            var miss = Math.Log(curve.Resistance(1 / x)) - goal;
            if (miss > 0 == falling)
            {
                high = x;
            }
            else
            {
                low = x;
            }

            var slope = -curve.RelativeSlope(1 / x) / (x * x);
            var next = x - miss / slope;
            if (!(next > low && next < high))
            {
                next = Math.Sqrt(low * high);
            }

            if (Math.Abs(next - x) <= 1e-15 * x)
            {
                return 1 / next;
            }

            x = next;
        }

        return 1 / x;
    }
}
