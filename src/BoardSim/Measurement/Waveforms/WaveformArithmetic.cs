using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Sums, differences and products of waveforms that need not have the same instants.</summary>
public static class WaveformArithmetic
{
    /// <summary>First minus second over the time they share; exact.</summary>
    /// <param name="first">The minuend; it gives the unit.</param>
    /// <param name="second">The subtrahend.</param>
    /// <param name="name">Name of the result; null makes one.</param>
    /// <exception cref="ArgumentException">They share no time, or their units differ.</exception>
    public static Waveform Minus(this Waveform first, Waveform second, string? name = null)
    {
        SameUnit(first, second);
        return Combine(first, second, name ?? $"{first.Name} - {second.Name}", first.Unit, static (a, b) => a - b);
    }

    /// <summary>The sum over the time they share; exact.</summary>
    /// <param name="first">The first waveform; it gives the unit.</param>
    /// <param name="second">The second waveform.</param>
    /// <param name="name">Name of the result; null makes one.</param>
    /// <exception cref="ArgumentException">They share no time, or their units differ.</exception>
    public static Waveform Plus(this Waveform first, Waveform second, string? name = null)
    {
        SameUnit(first, second);
        return Combine(first, second, name ?? $"{first.Name} + {second.Name}", first.Unit, static (a, b) => a + b);
    }

    /// <summary>
    /// The product over the time they share, exact at every sample of either. Between samples a product of two slopes is a
    /// parabola, which straight lines only approach; <see cref="WaveformIntegrals.MeanOfProduct"/> has no such error.
    /// </summary>
    /// <param name="first">The first waveform.</param>
    /// <param name="second">The second waveform.</param>
    /// <param name="unit">Unit of the product: <see cref="Unit.Watt"/> for voltage times current.</param>
    /// <param name="name">Name of the result; null makes one.</param>
    /// <exception cref="ArgumentException">They share no time.</exception>
    public static Waveform Product(this Waveform first, Waveform second, Unit unit, string? name = null)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        return Combine(first, second, name ?? $"{first.Name} * {second.Name}", unit, static (a, b) => a * b);
    }

    /// <summary>The waveform held between two limits, with samples where it meets them.</summary>
    /// <param name="wave">The waveform.</param>
    /// <param name="low">Lower limit in the waveform's unit.</param>
    /// <param name="high">Upper limit, not below the lower one.</param>
    public static Waveform Clipped(this Waveform wave, double low, double high)
    {
        ArgumentNullException.ThrowIfNull(wave);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(low, high);
        var (times, values) = (new List<double>(wave.Count), new List<double>(wave.Count));
        for (var i = 0; i < wave.Count; i++)
        {
            if (i > 0)
            {
                var (t0, v0, t1, v1) = (wave.Times[i - 1], wave.Values[i - 1], wave.Times[i], wave.Values[i]);
                // In the order in which the line meets them.
                var (first, second) = v1 >= v0 ? (low, high) : (high, low);
                Meet(t0, v0, t1, v1, first);
                Meet(t0, v0, t1, v1, second);
            }

            times.Add(wave.Times[i]);
            values.Add(Math.Clamp(wave.Values[i], low, high));
        }

        return Waveform.Adopt(wave.Name, wave.Unit, [.. times], [.. values]);

        void Meet(double t0, double v0, double t1, double v1, double limit)
        {
            if (t1 > t0 && (v0 - limit) * (v1 - limit) < 0)
            {
                times.Add(Math.Min(t1, t0 + (t1 - t0) * ((limit - v0) / (v1 - v0))));
                values.Add(limit);
            }
        }
    }

    /// <summary>Both waveforms at all instants of either within the time they share, jumps kept.</summary>
    internal static (Waveform First, Waveform Second) OnSharedTimes(Waveform first, Waveform second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (first.SharesTimesWith(second))
        {
            return (first, second);
        }

        var (from, to) = (Math.Max(first.Start, second.Start), Math.Min(first.End, second.End));
        if (from > to)
        {
            throw new ArgumentException($"{first} and {second} share no time.");
        }

        var (a, b) = (first.Slice(from, to), second.Slice(from, to));
        var room = a.Count + b.Count;
        var (t, u, v) = (new double[room], new double[room], new double[room]);
        var (i, j, n) = (0, 0, 0);
        while (i < a.Count || j < b.Count)
        {
            var time = Math.Min(i < a.Count ? a.Times[i] : double.PositiveInfinity, j < b.Count ? b.Times[j] : double.PositiveInfinity);
            var (leftA, rightA, jumpA) = Take(a, ref i, time);
            var (leftB, rightB, jumpB) = Take(b, ref j, time);
            if (jumpA || jumpB)
            {
                (t[n], u[n], v[n]) = (time, leftA, leftB);
                n++;
            }

            (t[n], u[n], v[n]) = (time, rightA, rightB);
            n++;
        }

        var shared = Waveform.Adopt(first.Name, first.Unit, t[..n], u[..n]);
        return (shared, shared.With(second.Name, second.Unit, v[..n]));
    }

    /// <summary>Left and right value at a time that is the next sample's or lies before it; moves past all samples of that time.</summary>
    private static (double Left, double Right, bool Jump) Take(Waveform wave, ref int next, double time)
    {
        var t = wave.Times;
        var v = wave.Values;
        if (next < t.Length && t[next] == time)
        {
            var left = v[next];
            var first = next;
            while (next < t.Length && t[next] == time)
            {
                next++;
            }

            return (left, v[next - 1], next - first > 1);
        }

        var value = next == 0 ? v[0]
            : next == t.Length ? v[^1]
            : v[next - 1] + (v[next] - v[next - 1]) * ((time - t[next - 1]) / (t[next] - t[next - 1]));
        return (value, value, false);
    }

    private static Waveform Combine(Waveform first, Waveform second, string name, Unit unit, Func<double, double, double> operation)
    {
        var (a, b) = OnSharedTimes(first, second);
        var result = new double[a.Count];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = operation(a.Values[i], b.Values[i]);
        }

        return a.With(name, unit, result);
    }

    private static void SameUnit(Waveform first, Waveform second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (first.Unit != second.Unit)
        {
            throw new ArgumentException($"{first.Name} is in {first.Unit} and {second.Name} in {second.Unit}; only like units can be added or subtracted.");
        }
    }
}
