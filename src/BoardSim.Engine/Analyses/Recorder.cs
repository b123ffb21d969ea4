using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Samples chosen signals along a run. Where a signal bends inside a step, samples are added from the dense output until
/// straight lines between them keep the accuracy; the integrator's own steps are much longer than a plot can stand.
/// </summary>
internal sealed class Recorder
{
    private const int MostPerStep = 64;

    /// <summary>Share of the accuracy that drawing straight lines between samples may cost.</summary>
    private const double Share = 0.5;

    private readonly BoundProbe[] probes;
    private readonly List<double> times = [];
    private readonly List<double>[] values;
    private readonly double[] peak;
    private readonly double[] from;
    private readonly double[] x;
    private readonly double start;
    private readonly double accuracy;
    private readonly double resolution;
    private readonly long mostSamples;

    public Recorder(CircuitSystem system, IReadOnlyList<Probe> probes, TransientOptions options)
    {
        this.probes = [.. probes.Select(p => p.Bind(system))];
        values = [.. probes.Select(_ => new List<double>())];
        peak = new double[probes.Count];
        from = new double[probes.Count];
        x = new double[system.Size + 1];
        start = options.Start;
        resolution = options.Resolution;
        accuracy = options.Accuracy * Share;
        mostSamples = new RunLimits { MostValues = options.MostValues }.MostSamples(probes.Count);
    }

    /// <summary>True when no more may be recorded.</summary>
    public bool IsFull => times.Count >= mostSamples;

    public double[] Times => [.. times];

    public double[][] Values => [.. values.Select(v => v.ToArray())];

    /// <summary>Records the start of the run.</summary>
    public void Begin(TransientRun run)
    {
        for (var p = 0; p < probes.Length; p++)
        {
            from[p] = probes[p].Value(run.State);
            peak[p] = Math.Abs(from[p]);
        }

        if (start <= 0)
        {
            Add(0, run.State);
        }
    }

    /// <summary>Records the step that was just accepted.</summary>
    public void Record(TransientRun run)
    {
        var (t0, t1) = (run.PreviousTime, run.Time);
        if (t1 >= start)
        {
            if (t0 < start)
            {
                run.Interpolate(start, x);
                Add(start, x);
            }

            var parts = Parts(run, t0, t1);
            for (var k = 1; k < parts; k++)
            {
                var t = t0 + (t1 - t0) * k / parts;
                if (t > start)
                {
                    run.Interpolate(t, x);
                    Add(t, x);
                }
            }

            if (t1 > start)
            {
                Add(t1, run.State);
            }
        }

        for (var p = 0; p < probes.Length; p++)
        {
            from[p] = probes[p].Value(run.State);
            peak[p] = Math.Max(peak[p], Math.Abs(from[p]));
        }
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
                var end = probes[p].Value(run.State);
                var chord = from[p] + theta * (end - from[p]);
                var level = Math.Max(peak[p], Math.Abs(end));
                var away = Math.Abs(probes[p].Value(x) - chord) / (theta * (1 - theta) * 4);
                if (level > 0)
                {
                    most = Math.Max(most, away / level);
                }
            }
        }

        var finest = resolution > 0 ? Math.Min(MostPerStep, Math.Ceiling((t1 - t0) / resolution)) : MostPerStep;
        return (int)Math.Clamp(Math.Ceiling(Math.Sqrt(most / accuracy)), 1, Math.Max(1, finest));
    }

    private void Add(double time, double[] state)
    {
        times.Add(time);
        for (var p = 0; p < probes.Length; p++)
        {
            values[p].Add(probes[p].Value(state));
        }
    }
}
