using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>
/// A quantity over time: samples at instants of any spacing, joined by straight lines. Two samples at the same instant are a
/// jump, left value first. Immutable, so it can be shared between threads.
/// </summary>
public sealed class Waveform
{
    private readonly double[] times;
    private readonly double[] values;

    /// <summary>Creates a waveform from samples, which are copied.</summary>
    /// <param name="name">What it is, such as the test point's name.</param>
    /// <param name="unit">Unit of the values.</param>
    /// <param name="times">Instants in seconds, at least one, finite, not falling.</param>
    /// <param name="values">Values in SI units, as many as instants, finite.</param>
    /// <exception cref="ArgumentException">The samples are not as described; the message says which one.</exception>
    public Waveform(string name, Unit unit, ReadOnlySpan<double> times, ReadOnlySpan<double> values)
        : this(name, unit, times.ToArray(), values.ToArray(), check: true)
    {
    }

    private Waveform(string name, Unit unit, double[] times, double[] values, bool check)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(unit);
        (Name, Unit, this.times, this.values) = (name, unit, times, values);
        if (check)
        {
            Check();
        }
    }

    /// <summary>What it is.</summary>
    public string Name { get; }

    /// <summary>Unit of the values.</summary>
    public Unit Unit { get; }

    /// <summary>Number of samples, at least one.</summary>
    public int Count => times.Length;

    /// <summary>Instants in seconds, not falling.</summary>
    public ReadOnlySpan<double> Times => times;

    /// <summary>Values in SI units, one per instant.</summary>
    public ReadOnlySpan<double> Values => values;

    /// <summary>The instants as memory, for callers that keep them.</summary>
    public ReadOnlyMemory<double> TimeMemory => times;

    /// <summary>The values as memory, for callers that keep them.</summary>
    public ReadOnlyMemory<double> ValueMemory => values;

    /// <summary>First instant in seconds.</summary>
    public double Start => times[0];

    /// <summary>Last instant in seconds.</summary>
    public double End => times[^1];

    /// <summary>Length in seconds; zero for a single sample (an operating point).</summary>
    public double Duration => End - Start;

    /// <summary>Value at an instant; at a jump the right one.</summary>
    /// <param name="time">Instant in seconds within <see cref="Start"/> and <see cref="End"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The instant is outside.</exception>
    public double At(double time)
    {
        time = Within(time, nameof(time));
        var next = FirstAfter(time);
        return next == 0 ? values[0] : times[next - 1] == time || next == Count ? values[next - 1] : Between(next - 1, time);
    }

    /// <summary>Value at an instant; at a jump the left one.</summary>
    /// <param name="time">Instant in seconds within <see cref="Start"/> and <see cref="End"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The instant is outside.</exception>
    public double AtLeft(double time)
    {
        time = Within(time, nameof(time));
        var from = FirstAtOrAfter(time);
        return from == 0 || times[from] == time ? values[from] : Between(from - 1, time);
    }

    /// <summary>
    /// The stretch between two instants, with interpolated ends: it starts with the right value at the first instant and ends
    /// with the left value at the last, so that a jump on a border belongs to neither side.
    /// </summary>
    /// <param name="from">Start in seconds.</param>
    /// <param name="to">End in seconds, not before the start.</param>
    /// <exception cref="ArgumentOutOfRangeException">An instant is outside the waveform, or they are in the wrong order.</exception>
    public Waveform Slice(double from, double to)
    {
        from = Within(from, nameof(from));
        to = Within(to, nameof(to));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(from, to);
        if (from == to)
        {
            return Adopt(Name, Unit, [from], [At(from)]);
        }

        var (first, last) = (FirstAfter(from), FirstAtOrAfter(to));
        var inner = last - first;
        var (t, v) = (new double[inner + 2], new double[inner + 2]);
        Array.Copy(times, first, t, 1, inner);
        Array.Copy(values, first, v, 1, inner);
        (t[0], v[0], t[^1], v[^1]) = (from, At(from), to, AtLeft(to));
        return Adopt(Name, Unit, t, v);
    }

    /// <summary>The same samples under another name.</summary>
    /// <param name="name">The name.</param>
    public Waveform Named(string name) => Adopt(name, Unit, times, values);

    /// <summary>The same values at instants moved by a constant.</summary>
    /// <param name="seconds">Added to every instant; finite.</param>
    public Waveform Shifted(double seconds) => new(Name, Unit, Array.ConvertAll(times, time => time + seconds), values, check: true);

    /// <summary>The values multiplied by a factor and moved by a constant.</summary>
    /// <param name="factor">Finite.</param>
    /// <param name="offset">Added after the multiplication; in the waveform's unit, finite.</param>
    public Waveform Scaled(double factor, double offset = 0) =>
        new(Name, Unit, times, Array.ConvertAll(values, value => value * factor + offset), check: true);

    /// <summary>Samples at evenly spaced instants, both ends included; values in between are interpolated, jumps are lost.</summary>
    /// <param name="count">Number of samples, at least 2.</param>
    public Waveform Resampled(int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        var (t, v) = (new double[count], new double[count]);
        var at = 0;
        for (var k = 0; k < count; k++)
        {
            t[k] = k == count - 1 ? End : Start + Duration * k / (count - 1);
            while (at < Count - 1 && times[at + 1] <= t[k])
            {
                at++;
            }

            v[k] = at == Count - 1 || times[at] == t[k] ? values[at] : Between(at, t[k]);
        }

        return Adopt(Name, Unit, t, v);
    }

    /// <inheritdoc/>
    public override string ToString() => $"{Name} ({Count} samples, {Quantity.FormatShort(Start, Unit.Second)} to {Quantity.FormatShort(End, Unit.Second)})";

    /// <summary>Makes a waveform of arrays that nobody else writes to and that are known to be in order.</summary>
    internal static Waveform Adopt(string name, Unit unit, double[] times, double[] values) => new(name, unit, times, values, check: false);

    /// <summary>True when both waveforms have the very same array of instants.</summary>
    internal bool SharesTimesWith(Waveform other) => ReferenceEquals(times, other.times);

    /// <summary>A waveform at this one's instants.</summary>
    internal Waveform With(string name, Unit unit, double[] newValues) => Adopt(name, unit, times, newValues);

    private double Between(int at, double time) =>
        values[at] + (values[at + 1] - values[at]) * ((time - times[at]) / (times[at + 1] - times[at]));

    /// <summary>Allows for the rounding of window borders that were computed from frequencies.</summary>
    private double Within(double time, string argument)
    {
        var slack = 1e-9 * Duration + 1e-15 * Math.Abs(End);
        return time >= Start - slack && time <= End + slack
            ? Math.Clamp(time, Start, End)
            : throw new ArgumentOutOfRangeException(argument, time, $"{Name} is known from {Quantity.FormatShort(Start, Unit.Second)} to {Quantity.FormatShort(End, Unit.Second)}.");
    }

    private int FirstAfter(double time)
    {
        var (low, high) = (0, Count);
        while (low < high)
        {
            var middle = low + (high - low) / 2;
            (low, high) = times[middle] <= time ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    private int FirstAtOrAfter(double time)
    {
        var (low, high) = (0, Count);
        while (low < high)
        {
            var middle = low + (high - low) / 2;
            (low, high) = times[middle] < time ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    private void Check()
    {
        if (times.Length == 0 || times.Length != values.Length)
        {
            throw new ArgumentException($"{Name} has {times.Length} instants and {values.Length} values; it needs as many of one as of the other, at least one.");
        }

        for (var i = 0; i < times.Length; i++)
        {
            if (!double.IsFinite(times[i]) || !double.IsFinite(values[i]))
            {
                throw new ArgumentException($"{Name}: sample {i} is {Quantity.FormatNumber(values[i])} at {Quantity.FormatNumber(times[i])} s; both must be finite.");
            }

            if (i > 0 && times[i] < times[i - 1])
            {
                throw new ArgumentException($"{Name}: sample {i} at {Quantity.FormatNumber(times[i])} s lies before the one at {Quantity.FormatNumber(times[i - 1])} s; instants must not fall.");
            }
        }
    }
}
