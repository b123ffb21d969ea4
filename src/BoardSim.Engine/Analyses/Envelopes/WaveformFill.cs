using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>
/// The waveforms of periods that were leapt over: each sample lies on the polynomial in the period's number through the
/// samples that up to four computed periods have at the same phase. Phases count between corners and events, whose instants are
/// interpolated themselves, so that a jump stays a jump.
/// </summary>
internal sealed class WaveformFill
{
    /// <summary>Part of a period by which instants may be out of order for rounding's sake.</summary>
    private const double Disorder = 1e-9;

    private readonly ComputedPeriod[] nodes;
    private readonly int[] numbers;
    private readonly double[] phases;
    private readonly int[] segments;
    private readonly double[][][] values;
    private readonly double length;

    /// <summary>Prepares the fill between two computed periods.</summary>
    /// <param name="nodes">Computed periods around the gap, at least the two that it lies between.</param>
    /// <param name="like">The node whose sampling is taken over.</param>
    /// <param name="length">Length of a period in seconds.</param>
    /// <param name="resolution">Longest distance in seconds between samples where the node has them; 0 for no limit.</param>
    /// <param name="tolerance">How far straight lines between samples may be off, by probe.</param>
    public WaveformFill(ComputedPeriod[] nodes, ComputedPeriod like, double length, double resolution, double[] tolerance)
    {
        this.nodes = nodes;
        this.length = length;
        numbers = [.. nodes.Select(n => n.Number)];
        (segments, phases) = Grid(nodes, like, length, resolution, tolerance);
        values = [.. nodes.Select(n => Resample(n))];
    }

    /// <summary>Writes one period.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="start">Its start in seconds.</param>
    /// <param name="times">Receives the instants.</param>
    /// <param name="columns">Receive the samples of each probe.</param>
    /// <param name="events">Receives the changes of discrete states.</param>
    public void Write(int number, double start, List<double> times, List<double>[] columns, List<CircuitEvent> events)
    {
        var weights = Weights(number);
        var breaks = Ordered(Combine(weights, [.. nodes.Select(n => n.Breaks)]));
        for (var i = 0; i < phases.Length; i++)
        {
            times.Add(start + Time(breaks, segments[i], phases[i]));
        }

        for (var p = 0; p < columns.Length; p++)
        {
            var column = columns[p];
            for (var i = 0; i < phases.Length; i++)
            {
                var v = 0.0;
                for (var j = 0; j < weights.Length; j++)
                {
                    v += weights[j] * values[j][p][i];
                }

                column.Add(v);
            }
        }

        var at = Ordered(Combine(weights, [.. nodes.Select(n => n.EventTimes)]));
        for (var e = 0; e < at.Length; e++)
        {
            var (part, state) = nodes[0].Happened[e];
            events.Add(new CircuitEvent(start + at[e], part, state));
        }
    }

    /// <summary>Weights of the computed periods in one that lies between: those of the polynomial, or, where it puts one break behind the next or out
    /// of the period, those of the straight line through both neighbours, which cannot.</summary>
    private double[] Weights(int number)
    {
        var weights = Polynomial.At(numbers, number);
        if (InOrder(Combine(weights, [.. nodes.Select(n => n.Breaks)])) && InOrder(Combine(weights, [.. nodes.Select(n => n.EventTimes)])))
        {
            return weights;
        }

        var before = Array.IndexOf(numbers, numbers.Where(n => n < number).Max());
        var after = Array.IndexOf(numbers, numbers.Where(n => n > number).Min());
        Array.Clear(weights);
        weights[after] = (number - numbers[before]) / (double)(numbers[after] - numbers[before]);
        weights[before] = 1 - weights[after];
        return weights;
    }

    private bool InOrder(double[] instants)
    {
        for (var k = 0; k < instants.Length; k++)
        {
            if (instants[k] < (k == 0 ? 0 : instants[k - 1]) - Disorder * length || instants[k] > (1 + Disorder) * length)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Takes out what rounding makes of instants that coincide.</summary>
    private double[] Ordered(double[] instants)
    {
        for (var k = 0; k < instants.Length; k++)
        {
            instants[k] = Math.Clamp(instants[k], k == 0 ? 0 : instants[k - 1], length);
        }

        return instants;
    }

    /// <summary>Chooses samples: those of one node that straight lines need, the ends of segments and the extremes of each probe.</summary>
    private static (int[] Segments, double[] Phases) Grid(ComputedPeriod[] nodes, ComputedPeriod like, double length, double resolution, double[] tolerance)
    {
        var times = like.Record.Times;
        var wanted = new SortedSet<int>(SampleThinning.Needed(like.Record, tolerance, resolution)) { 0, times.Length - 1 };
        foreach (var column in like.Record.Values)
        {
            var (low, high) = (0, 0);
            for (var i = 1; i < column.Length; i++)
            {
                low = column[i] < column[low] ? i : low;
                high = column[i] > column[high] ? i : high;
            }

            wanted.Add(low);
            wanted.Add(high);
        }

        for (var i = 1; i < times.Length; i++)
        {
            if (Segment(like.Breaks, times[i]) != Segment(like.Breaks, times[i - 1]))
            {
                wanted.Add(i - 1);
                wanted.Add(i);
            }
        }

        // A period after a leap is recorded from its second point on.
        var first = nodes.Max(n => n.Record.Times[0]);
        wanted.RemoveWhere(i => times[i] < first);
        var segments = wanted.Select(i => Segment(like.Breaks, times[i])).ToArray();
        var phases = wanted.Select((i, k) => Phase(like.Breaks, segments[k], times[i], length)).ToArray();
        return (segments, phases);
    }

    /// <summary>Number of the segment that an instant lies in; the end of a segment belongs to it.</summary>
    private static int Segment(double[] breaks, double time)
    {
        var s = 0;
        while (s < breaks.Length && time > breaks[s])
        {
            s++;
        }

        return s;
    }

    private static double Phase(double[] breaks, int segment, double time, double length)
    {
        var (from, to) = Bounds(breaks, segment, length);
        return to > from ? (time - from) / (to - from) : 1;
    }

    private static (double From, double To) Bounds(double[] breaks, int segment, double length) =>
        (segment == 0 ? 0 : breaks[segment - 1], segment == breaks.Length ? length : breaks[segment]);

    private double Time(double[] breaks, int segment, double phase)
    {
        var (from, to) = Bounds(breaks, segment, length);
        return from + phase * (to - from);
    }

    private double[][] Resample(ComputedPeriod node)
    {
        var (times, columns) = (node.Record.Times, node.Record.Values);
        var result = columns.Select(_ => new double[phases.Length]).ToArray();
        var k = 0;
        for (var i = 0; i < phases.Length; i++)
        {
            var (from, to) = Bounds(node.Breaks, segments[i], length);
            var at = from + phases[i] * (to - from);

            // Samples of the same segment only: what lies beyond a break is on the other side of a jump.
            while (k < times.Length - 1 && (times[k] < at || times[k] <= from && segments[i] > 0))
            {
                k++;
            }

            var share = k > 0 && times[k] > at && !(times[k - 1] <= from && segments[i] > 0) ? (at - times[k - 1]) / (times[k] - times[k - 1]) : 1;
            for (var p = 0; p < columns.Length; p++)
            {
                result[p][i] = share == 1 ? columns[p][k] : columns[p][k - 1] + share * (columns[p][k] - columns[p][k - 1]);
            }
        }

        return result;
    }

    private static double[] Combine(double[] weights, double[][] vectors)
    {
        var sum = new double[vectors[0].Length];
        for (var j = 0; j < weights.Length; j++)
        {
            for (var k = 0; k < sum.Length; k++)
            {
                sum[k] += weights[j] * vectors[j][k];
            }
        }

        return sum;
    }
}
