namespace BoardSim.Reports.Figures;

/// <summary>
/// Thins a trace for drawing without losing a peak: of all points that fall on one pixel column the first, the lowest, the
/// highest and the last are kept, in their order, which draws the same picture as all of them.
/// </summary>
public static class Decimation
{
    /// <summary>Thins a trace.</summary>
    /// <param name="x">Positions, never falling.</param>
    /// <param name="y">Values, as many as positions; NaN marks a gap and is kept.</param>
    /// <param name="low">Left end of the window. Points outside are dropped but for one neighbour on each side.</param>
    /// <param name="high">Right end of the window, above the left.</param>
    /// <param name="columns">Number of pixel columns, 1 or more; at most four points are kept in each.</param>
    public static (double[] X, double[] Y) Thin(
        IReadOnlyList<double> x, IReadOnlyList<double> y, double low, double high, int columns)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        ArgumentOutOfRangeException.ThrowIfLessThan(columns, 1);
        if (x.Count != y.Count)
            throw new ArgumentException($"There are {x.Count} positions and {y.Count} values; there must be as many of each.", nameof(y));
        if (!(high > low))
            throw new ArgumentException($"The window runs from {low:R} to {high:R}; its right end must lie above its left.", nameof(high));

        int first = 0, last = x.Count - 1;
        while (first < last && x[first + 1] < low)
            first++;
        while (last > first && x[last - 1] > high)
            last--;
        List<double> keptX = [], keptY = [];
        if (last - first + 1 <= 2 * columns)
        {
            for (var k = first; k <= last; k++)
                Keep(k);
            return ([.. keptX], [.. keptY]);
        }

        var width = (high - low) / columns;
        for (var k = first; k <= last;)
        {
            var column = Math.Floor((x[k] - low) / width);
            int end = k, least = k, most = k;
            while (end < last && Math.Floor((x[end + 1] - low) / width) == column && !double.IsNaN(y[end + 1]) && !double.IsNaN(y[end]))
            {
                end++;
                if (y[end] < y[least])
                    least = end;
                if (y[end] > y[most])
                    most = end;
            }

            var previous = -1;
            foreach (var index in (ReadOnlySpan<int>)[k, Math.Min(least, most), Math.Max(least, most), end])
                if (index > previous)
                    Keep(previous = index);
            k = end + 1;
        }

        return ([.. keptX], [.. keptY]);

        void Keep(int index)
        {
            keptX.Add(x[index]);
            keptY.Add(y[index]);
        }
    }
}
