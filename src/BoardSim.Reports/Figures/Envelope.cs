namespace BoardSim.Reports.Figures;

/// <summary>
/// The band that a fast trace fills: where hundreds of cycles share the sheet, a line is only a blot, and dashes no longer show.
/// </summary>
/// <param name="X">Middle of each column.</param>
/// <param name="Low">Least value in each column.</param>
/// <param name="High">Greatest value in each column.</param>
internal sealed record Envelope(double[] X, double[] Low, double[] High)
{
    /// <summary>
    /// True when a trace turns round at least twice within twelve pixels over most of the sheet, counting only turns that are
    /// taller than a line is wide.
    /// </summary>
    public static bool Suits(IReadOnlyList<double> x, IReadOnlyList<double> y, double low, double high, double span)
    {
        const int cells = 1400 / 12;
        var least = span * 0.025;
        var turns = new int[cells];
        var direction = 0;
        var extreme = double.NaN;
        for (var k = 0; k < x.Count; k++)
        {
            if (x[k] < low || x[k] > high || double.IsNaN(y[k]))
                continue;
            if (double.IsNaN(extreme))
                extreme = y[k];
            var move = y[k] - extreme;
            if (direction * move >= 0 && direction != 0)
            {
                extreme = y[k];
            }
            else if (Math.Abs(move) > least)
            {
                turns[Math.Clamp((int)((x[k] - low) / (high - low) * cells), 0, cells - 1)]++;
                direction = Math.Sign(move);
                extreme = y[k];
            }
        }

        return turns.Count(count => count >= 2) > cells / 2;
    }

    /// <summary>True when the band's edges are smooth enough to be followed: they climb and fall by no more than a few times the height of the sheet.</summary>
    public bool IsCalm(double span) => Climb(Low) + Climb(High) <= 8 * span;

    private static double Climb(double[] values) => values.Zip(values.Skip(1), (a, b) => Math.Abs(b - a)).Sum();

    /// <summary>Takes the band of a piecewise straight trace.</summary>
    public static Envelope Of(IReadOnlyList<double> x, IReadOnlyList<double> y, double low, double high, int columns)
    {
        var width = (high - low) / columns;
        var least = new double[columns];
        var most = new double[columns];
        Array.Fill(least, double.PositiveInfinity);
        Array.Fill(most, double.NegativeInfinity);
        for (var k = 1; k < x.Count; k++)
        {
            var (from, to) = (Math.Max(x[k - 1], low), Math.Min(x[k], high));
            if (to < from || double.IsNaN(y[k - 1]) || double.IsNaN(y[k]))
                continue;
            for (var c = Column(from); c <= Column(to); c++)
            {
                // A jump has no length: both of its values count.
                var start = x[k] == x[k - 1] ? y[k - 1] : At(k, Math.Max(from, low + (c * width)));
                var end = x[k] == x[k - 1] ? y[k] : At(k, Math.Min(to, low + ((c + 1) * width)));
                least[c] = Math.Min(least[c], Math.Min(start, end));
                most[c] = Math.Max(most[c], Math.Max(start, end));
            }
        }

        var filled = Enumerable.Range(0, columns).Where(c => least[c] <= most[c]).ToArray();
        return new Envelope(
            [.. filled.Select(c => low + ((c + 0.5) * width))], [.. filled.Select(c => least[c])], [.. filled.Select(c => most[c])]);

        int Column(double at) => Math.Clamp((int)((at - low) / width), 0, columns - 1);
        double At(int k, double at) => y[k - 1] + ((y[k] - y[k - 1]) * (at - x[k - 1]) / (x[k] - x[k - 1]));
    }
}
