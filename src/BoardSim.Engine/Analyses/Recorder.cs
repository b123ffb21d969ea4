using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Samples chosen signals along a run. Where a signal bends inside a step, samples are added from the dense output until
/// straight lines between them keep the accuracy; the integrator's own steps are much longer than a plot can stand. Who asks
/// for a coarser record gets one, but still with every peak.
/// </summary>
internal sealed class Recorder
{
    /// <summary>Share of the accuracy that drawing straight lines between samples may cost.</summary>
    private const double Share = 0.1;

    private readonly BoundProbe[] probes;
    private readonly SampleStore store;
    private readonly SolvedPoints solved;
    private readonly double[] peak;
    private readonly double[] from;
    private readonly double[] x;
    private readonly double start;
    private readonly double accuracy;
    private readonly double resolution;
    private readonly long mostSamples;

    /// <summary>Pieces of a step that bends by all that a signal has ever shown: more it cannot need. No fixed number will do: a step of order nine at 1e-7 needs a thousand, and cut off
    /// at 64 an instant read off the lines was 48 times as far off as had been asked.</summary>
    private readonly double mostPerStep;

    private double[] knots = [];
    private double recordedAtEvent = double.NaN;

    public Recorder(CircuitSystem system, IReadOnlyList<Probe> probes, TransientOptions options)
    {
        this.probes = [.. probes.Select(p => p.Bind(system))];
        store = new SampleStore(probes.Count + 1);
        solved = new SolvedPoints(this.probes);
        peak = new double[probes.Count];
        from = new double[probes.Count];
        x = new double[system.Size + 1];
        start = options.Start;
        resolution = options.Resolution;
        accuracy = options.Accuracy * Share;
        mostSamples = new RunLimits { MostValues = options.MostValues }.MostSamples(probes.Count);
        mostPerStep = Math.Min(Math.Ceiling(1 / Math.Sqrt(accuracy)), mostSamples);
    }

    /// <summary>True when no more may be recorded.</summary>
    public bool IsFull => store.Count >= mostSamples;

    /// <summary>The samples: time first, then a column for each probe.</summary>
    public SampleStore Samples => store;

    /// <summary>Records the start of the run.</summary>
    public void Begin(TransientRun run)
    {
        for (var p = 0; p < probes.Length; p++)
        {
            from[p] = probes[p].Value(run.Time, run.State);
            peak[p] = Math.Abs(from[p]);
        }

        if (start <= 0)
        {
            Add(0, run.State);
        }
    }

    /// <summary>Has the end of each step that ends with an event recorded before discrete states change: currents and states follow from
    /// these as well. For runs of which every step is recorded.</summary>
    public void Follow(TransientRun run) => run.BeforeEvents = () =>
    {
        Record(run);
        recordedAtEvent = run.Time;
    };

    /// <summary>Records the step that was just accepted.</summary>
    public void Record(TransientRun run)
    {
        if (run.Time == recordedAtEvent || run.IsPassing)
        {
            return;
        }

        var (t0, t1) = (run.PreviousTime, run.Time);
        solved.Begin();
        if (t1 >= start)
        {
            if (t0 < start)
            {
                AddInside(run, start);
            }

            if (run.Knots > 1 && (t1 - t0) / run.Knots <= resolution)
            {
                RecordKnots(run, all: t1 - t0 > resolution);
            }
            else
            {
                RecordEvenly(run, t0, t1);
            }
        }

        for (var p = 0; p < probes.Length; p++)
        {
            from[p] = probes[p].Value(run.Time, run.State);
            peak[p] = Math.Max(peak[p], Math.Abs(from[p]));
        }
    }

    private void RecordEvenly(TransientRun run, double t0, double t1)
    {
        // Inside a step in after an event there is nothing to see: unknowns lie on a straight line from one side of the jump to the other, and a current that follows
        // from them with the new state would be none that ever flowed.
        var parts = run.IsStepIn ? 1 : Parts(run, t0, t1);
        for (var k = 1; k < parts; k++)
        {
            var t = t0 + (t1 - t0) * k / parts;
            if (t > start)
            {
                AddInside(run, t);
            }
        }

        if (t1 > start)
        {
            Add(t1, run.State);
        }
    }

    /// <summary>Records the points that a step of high order has inside, or its end alone, and the extremes that signals pass
    /// between them.</summary>
    private void RecordKnots(TransientRun run, bool all)
    {
        var (count, wide) = (run.Knots, probes.Length);
        if (knots.Length < (count + 1) * (wide + 1))
        {
            knots = new double[(count + 1) * (wide + 1)];
        }

        for (var k = 0; k <= count; k++)
        {
            var row = knots.AsSpan(k * (wide + 1), wide + 1);
            var state = run.Knot(k, out row[0]);
            for (var p = 0; p < wide; p++)
            {
                row[p + 1] = probes[p].Value(row[0], state);
            }
        }

        for (var k = 1; k <= count; k++)
        {
            var row = knots.AsSpan(k * (wide + 1), wide + 1);
            var extreme = k < count ? Extreme(k) : double.NaN;
            if (extreme <= row[0] && extreme > start)
            {
                AddInside(run, extreme);
            }

            if (row[0] > start && (all || k == count))
            {
                row.CopyTo(store.Add());
            }

            if (extreme > row[0] && extreme > start)
            {
                AddInside(run, extreme);
            }
        }
    }

    private void AddInside(TransientRun run, double time)
    {
        run.Interpolate(time, x);
        var row = store.Add();
        row[0] = time;
        for (var p = 0; p < probes.Length; p++)
        {
            row[p + 1] = solved.Inside(run, p, time, x);
        }
    }

    /// <summary>Instant of an extreme near a knot that the samples would cut off by more than the accuracy; NaN when there is none.</summary>
    private double Extreme(int knot)
    {
        var wide = probes.Length + 1;
        var a = knots.AsSpan((knot - 1) * wide, wide);
        var b = knots.AsSpan(knot * wide, wide);
        var c = knots.AsSpan((knot + 1) * wide, wide);
        var (d0, d1) = (b[0] - a[0], c[0] - b[0]);
        for (var p = 1; p < wide; p++)
        {
            if ((b[p] - a[p]) * (c[p] - b[p]) >= 0)
            {
                continue;
            }

            // Vertex of the parabola through three samples, and what the straight line from knot to knot would cut off there.
            var (s0, s1) = ((b[p] - a[p]) / d0, (c[p] - b[p]) / d1);
            var bend = (s1 - s0) / (d0 + d1);
            var slope = s0 + bend * d0;
            var offset = -slope / (2 * bend);
            if (Math.Abs(bend) * d0 * d1 > accuracy * peak[p - 1] && offset > -d0 && offset < d1)
            {
                return b[0] + offset;
            }
        }

        return double.NaN;
    }

    /// <summary>Goes on from where a run stands after a leap: the point there is recorded, what lies between is not.</summary>
    public void Resume(TransientRun run)
    {
        Add(run.Time, run.State);
        for (var p = 0; p < probes.Length; p++)
        {
            from[p] = probes[p].Value(run.Time, run.State);
        }
    }

    /// <summary>Hands over what was recorded since the last call and forgets it.</summary>
    public RecordPiece Take()
    {
        var piece = new RecordPiece(store.Column(0), [.. Enumerable.Range(1, probes.Length).Select(store.Column)]);
        store.Clear();
        return piece;
    }

    /// <summary>How many straight pieces the step needs: the distance from the chord falls with the square of their number.</summary>
    private int Parts(TransientRun run, double t0, double t1)
    {
        if (t1 - t0 <= resolution)
        {
            return 1;
        }

        var most = 0.0;
        for (var quarter = 1; quarter <= 3; quarter++)
        {
            var theta = quarter / 4.0;
            run.Interpolate(t0 + theta * (t1 - t0), x);
            for (var p = 0; p < probes.Length; p++)
            {
                var end = probes[p].Value(run.Time, run.State);
                var chord = from[p] + theta * (end - from[p]);
                var level = Math.Max(peak[p], Math.Abs(end));
                var away = Math.Abs(solved.Inside(run, p, t0 + theta * (t1 - t0), x) - chord) / (theta * (1 - theta) * 4);
                if (level > 0)
                {
                    most = Math.Max(most, away / level);
                }
            }
        }

        var finest = resolution > 0 ? Math.Min(mostPerStep, Math.Ceiling((t1 - t0) / resolution)) : mostPerStep;
        return (int)Math.Clamp(Math.Ceiling(Math.Sqrt(most / accuracy)), 1, Math.Max(1, finest));
    }

    private void Add(double time, ReadOnlySpan<double> state)
    {
        var row = store.Add();
        row[0] = time;
        for (var p = 0; p < probes.Length; p++)
        {
            row[p + 1] = probes[p].Value(time, state);
        }
    }
}
