namespace BoardSim.Engine.Devices;

/// <summary>
/// Curve through the points of a data sheet's table, interpolated in ln R over 1/T, where an NTC is nearly straight, by monotone
/// cubic pieces (Fritsch and Carlson, SIAM J. Numer. Anal. 17, 1980, 238). Beyond the table it goes on straight, which is
/// the beta law of the last points.
/// </summary>
public sealed class TableCurve : IResistanceCurve
{
    // By rising 1/T.
    private readonly double[] x, y, slope;
    private readonly List<string> problems = [];

    /// <summary>Creates a curve.</summary>
    /// <param name="points">Temperatures in kelvin and resistances in ohms, in any order: at least two, all positive, no temperature
    /// twice, the resistance always falling or always rising with the temperature. See <see cref="Problems"/>.</param>
    public TableCurve(IEnumerable<(double Kelvin, double Ohms)> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        var sorted = points.OrderByDescending(p => p.Kelvin).ToArray();
        x = [.. sorted.Select(p => 1 / p.Kelvin)];
        y = [.. sorted.Select(p => Math.Log(p.Ohms))];
        slope = new double[x.Length];
        Check(sorted);
        if (problems.Count == 0)
        {
            Slopes();
        }
    }

    /// <inheritdoc/>
    public double Resistance(double kelvin)
    {
        Interpolate(1 / kelvin, out var value, out _);
        return Math.Exp(value);
    }

    /// <inheritdoc/>
    public double RelativeSlope(double kelvin)
    {
        Interpolate(1 / kelvin, out _, out var derivative);
        return -derivative / (kelvin * kelvin);
    }

    /// <summary>Temperature in kelvin at which the curve has a resistance, to within rounding; by Newton's method in 1/T.</summary>
    /// <param name="ohms">Resistance in ohms, positive.</param>
    public double Temperature(double ohms) => CurveInverse.Temperature(this, ohms);

    /// <inheritdoc/>
    public IEnumerable<string> Problems() => problems;

    private void Check((double Kelvin, double Ohms)[] sorted)
    {
        if (sorted.Length < 2)
        {
            problems.Add($"a table of {sorted.Length} points; it must have two or more.");
            return;
        }

        foreach (var (kelvin, ohms) in sorted)
        {
            if (!(kelvin > 0 && double.IsFinite(kelvin) && ohms > 0 && double.IsFinite(ohms)))
            {
                problems.Add($"table point {kelvin} K, {ohms} ohm; both must be positive and finite.");
            }
        }

        if (problems.Count > 0)
        {
            return;
        }

        var direction = Math.Sign(y[^1] - y[0]);
        for (var k = 1; k < sorted.Length; k++)
        {
            if (x[k] == x[k - 1])
            {
                problems.Add($"table point {sorted[k].Kelvin} K stands twice; each temperature must stand once.");
            }
            else if (Math.Sign(y[k] - y[k - 1]) != direction || direction == 0)
            {
                problems.Add(
                    $"table points {sorted[k].Kelvin} K, {sorted[k].Ohms} ohm and {sorted[k - 1].Kelvin} K, {sorted[k - 1].Ohms} ohm; the resistance must go on {(direction > 0 ? "falling" : "rising")} with the temperature.");
            }
        }
    }

    private void Slopes()
    {
        var n = x.Length;
        var h = new double[n - 1];
        var d = new double[n - 1];
        for (var k = 0; k < n - 1; k++)
        {
            h[k] = x[k + 1] - x[k];
            d[k] = (y[k + 1] - y[k]) / h[k];
        }

        // Straight beyond the ends with the slope of the outermost interval.
        slope[0] = d[0];
        slope[n - 1] = d[n - 2];
        for (var k = 1; k < n - 1; k++)
        {
            // Weighted harmonic mean (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5, 1984, 300): keeps each piece monotone.
            var (w1, w2) = (2 * h[k] + h[k - 1], h[k] + 2 * h[k - 1]);
            slope[k] = (w1 + w2) / (w1 / d[k - 1] + w2 / d[k]);
        }
    }

    private void Interpolate(double at, out double value, out double derivative)
    {
        var last = x.Length - 1;
        if (at <= x[0] || at >= x[last])
        {
            var end = at <= x[0] ? 0 : last;
            derivative = slope[end];
            value = y[end] + derivative * (at - x[end]);
            return;
        }

        var low = 0;
        var high = last;
        while (high - low > 1)
        {
            var middle = (low + high) / 2;
            (low, high) = x[middle] <= at ? (middle, high) : (low, middle);
        }

        var h = x[high] - x[low];
        var t = (at - x[low]) / h;
        var chord = y[high] - y[low];
        var (s0, s1) = (slope[low] * h, slope[high] * h);

        // Hermite's cubic on the unit interval.
        var (c2, c3) = (3 * chord - 2 * s0 - s1, s0 + s1 - 2 * chord);
        value = y[low] + t * (s0 + t * (c2 + t * c3));
        derivative = (s0 + t * (2 * c2 + 3 * t * c3)) / h;
    }
}
