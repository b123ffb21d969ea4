namespace BoardSim.Engine.Analyses;

/// <summary>
/// What the solved points of a step bear out of currents that follow from the unknowns by a bent law. Between these points the unknowns lie on a polynomial, right within their tolerances; a
/// junction whose current is an exponential of millivolts makes a thousand times its current of that where it turns on or off, none of which flows anywhere.
/// </summary>
internal sealed class SolvedPoints
{
    /// <summary>How far beyond the values at the solved points an extreme between them may lie, as a part of their range.</summary>
    private const double Reach = 0.5;

    private readonly BoundProbe[] probes;
    private readonly bool[] isBent;
    private readonly double[] low;
    private readonly double[] high;
    private double[] times = [];
    private double[][] values = [];
    private int count;

    /// <summary>Prepares for the probes of a record.</summary>
    /// <param name="probes">All of them.</param>
    public SolvedPoints(BoundProbe[] probes)
    {
        this.probes = probes;
        isBent = [.. probes.Select(p => p.IsBent)];
        (low, high) = (new double[probes.Length], new double[probes.Length]);
    }

    /// <summary>A new step: what is known of the last one is over.</summary>
    public void Begin() => count = 0;

    /// <summary>Value of a probe inside the step that was just accepted.</summary>
    /// <param name="run">The run.</param>
    /// <param name="probe">Number of the probe.</param>
    /// <param name="time">Instant in seconds.</param>
    /// <param name="x">The interpolated unknowns there.</param>
    public double Inside(TransientRun run, int probe, double time, ReadOnlySpan<double> x)
    {
        var value = probes[probe].Value(time, x);
        if (!isBent[probe])
        {
            return value;
        }

        if (count == 0)
        {
            Take(run);
        }

        var reach = Reach * (high[probe] - low[probe]);
        return value >= low[probe] - reach && value <= high[probe] + reach ? value : Line(probe, time);
    }

    private void Take(TransientRun run)
    {
        count = run.SolvedCount;
        if (times.Length < count)
        {
            (times, values) = (new double[count], [.. probes.Select(_ => new double[count])]);
        }

        for (var p = 0; p < probes.Length; p++)
        {
            (low[p], high[p]) = (double.PositiveInfinity, double.NegativeInfinity);
        }

        for (var k = 0; k < count; k++)
        {
            var x = run.Solved(k, out times[k]);
            for (var p = 0; p < probes.Length; p++)
            {
                if (isBent[p])
                {
                    values[p][k] = probes[p].Value(times[k], x);
                    (low[p], high[p]) = (Math.Min(low[p], values[p][k]), Math.Max(high[p], values[p][k]));
                }
            }
        }
    }

    /// <summary>Value on the straight line between the solved points before and after an instant; they are not in the order of time.</summary>
    private double Line(int probe, double time)
    {
        var (before, after) = (0, count - 1);
        for (var k = 0; k < count; k++)
        {
            before = times[k] <= time && times[k] > times[before] ? k : before;
            after = times[k] >= time && times[k] < times[after] ? k : after;
        }

        var (v0, v1) = (values[probe][before], values[probe][after]);
        return times[after] > times[before] ? v0 + (v1 - v0) * (time - times[before]) / (times[after] - times[before]) : v0;
    }
}
