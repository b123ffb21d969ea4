namespace BoardSim.Benchmarks.Boards;

/// <summary>A recorded waveform: straight lines between samples, integrated exactly.</summary>
/// <param name="times">Instants in seconds, rising.</param>
/// <param name="values">Values there.</param>
internal sealed class Polyline(double[] times, double[] values)
{
    /// <summary>Value at an instant.</summary>
    public double At(double time)
    {
        var k = Array.BinarySearch(times, time);
        if (k >= 0)
        {
            return values[k];
        }

        k = Math.Clamp(~k, 1, times.Length - 1);
        return values[k - 1] + (values[k] - values[k - 1]) * (time - times[k - 1]) / (times[k] - times[k - 1]);
    }

    /// <summary>Smallest and largest value in a window, its ends included.</summary>
    public (double Low, double High) Extremes(double from, double to)
    {
        var (low, high) = (Math.Min(At(from), At(to)), Math.Max(At(from), At(to)));
        for (var k = After(from); k < times.Length && times[k] < to; k++)
        {
            (low, high) = (Math.Min(low, values[k]), Math.Max(high, values[k]));
        }

        return (low, high);
    }

    /// <summary>Mean over a window.</summary>
    public double Mean(double from, double to) => Integral(from, to, (a, b) => (a + b) / 2) / (to - from);

    /// <summary>Root mean square over a window.</summary>
    public double RootMeanSquare(double from, double to) => Math.Sqrt(Integral(from, to, (a, b) => (a * a + a * b + b * b) / 3) / (to - from));

    /// <summary>Time after an instant until the value first falls to a share of what it was then.</summary>
    public double FallTo(double from, double share)
    {
        var level = At(from) * share;
        for (var k = Math.Max(1, After(from)); k < times.Length; k++)
        {
            if (values[k - 1] > level && values[k] <= level)
            {
                return Crossing(k, level) - from;
            }
        }

        return double.NaN;
    }

    /// <summary>Mean interval between rising crossings of a level inside a window.</summary>
    public double Period(double level, double from, double to)
    {
        var crossings = Enumerable.Range(1, times.Length - 1)
            .Where(k => values[k - 1] < level && values[k] >= level)
            .Select(k => Crossing(k, level))
            .Where(t => t >= from && t <= to)
            .ToList();
        return crossings.Count > 1 ? (crossings[^1] - crossings[0]) / (crossings.Count - 1) : double.NaN;
    }

    private double Crossing(int k, double level) =>
        times[k - 1] + (times[k] - times[k - 1]) * (level - values[k - 1]) / (values[k] - values[k - 1]);

    private int After(double time)
    {
        var k = Array.BinarySearch(times, time);
        return k >= 0 ? k + 1 : ~k;
    }

    private double Integral(double from, double to, Func<double, double, double> average)
    {
        var (sum, t, v) = (0.0, from, At(from));
        for (var k = After(from); k < times.Length && times[k] < to; k++)
        {
            sum += (times[k] - t) * average(v, values[k]);
            (t, v) = (times[k], values[k]);
        }

        return sum + (to - t) * average(v, At(to));
    }
}
