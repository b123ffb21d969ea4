using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>SPICE's PWL: straight lines between points; constant before the first and after the last.</summary>
public sealed class PiecewiseLinearWaveform : SourceWaveform
{
    private readonly double[] times;
    private readonly double[] values;

    /// <summary>Creates the waveform.</summary>
    /// <param name="times">Instants in seconds, strictly increasing, at least one.</param>
    /// <param name="values">Values in volts or amperes, as many.</param>
    /// <exception cref="ArgumentException">Lengths differ, or times do not increase.</exception>
    public PiecewiseLinearWaveform(IReadOnlyList<double> times, IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(times);
        ArgumentNullException.ThrowIfNull(values);
        if (times.Count == 0 || times.Count != values.Count)
        {
            throw new ArgumentException($"{times.Count} times and {values.Count} values; there must be as many of each, and at least one.");
        }

        for (var k = 1; k < times.Count; k++)
        {
            if (!(times[k] > times[k - 1]))
            {
                throw new ArgumentException($"Time {times[k]} s follows {times[k - 1]} s; times must increase.");
            }
        }

        this.times = [.. times];
        this.values = [.. values];
    }

    /// <summary>The instants, in seconds.</summary>
    public IReadOnlyList<double> Times => times;

    /// <summary>The values, in volts or amperes.</summary>
    public IReadOnlyList<double> Values => values;

    /// <inheritdoc/>
    public override double Value(double time)
    {
        if (time <= times[0])
        {
            return values[0];
        }

        if (time >= times[^1])
        {
            return values[^1];
        }

        var k = Array.BinarySearch(times, time);
        k = k >= 0 ? k : ~k - 1;
        var s = (time - times[k]) / (times[k + 1] - times[k]);
        return values[k] + s * (values[k + 1] - values[k]);
    }

    /// <inheritdoc/>
    public override Repetition RepetitionAt(double time)
    {
        // Constant as long as the points to come lie at one height.
        var level = Value(time);
        for (var k = 0; k < times.Length; k++)
        {
            if (times[k] > time && values[k] != level)
            {
                return k == 0 || !(values[k - 1] == level) || times[k - 1] <= time ? Repetition.None : new(0, times[k - 1]);
            }
        }

        return Repetition.Constant;
    }

    /// <inheritdoc/>
    public override double NextCorner(double time)
    {
        var slack = 1e-13 * Math.Abs(time);
        foreach (var t in times)
        {
            if (t > time + slack)
            {
                return t;
            }
        }

        return double.PositiveInfinity;
    }
}
