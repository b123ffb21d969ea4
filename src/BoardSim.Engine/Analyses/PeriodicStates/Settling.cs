using System.Globalization;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// The long way: an ordinary transient until its periods repeat. Unknowns at the boundaries are averaged over blocks of periods, so that
/// the noise of the step control does not hide a drift nor feign one.
/// </summary>
internal sealed class Settling
{
    /// <summary>Periods in a block.</summary>
    private const int Block = 32;

    /// <summary>Changes from block to block that may still be to come, at most; a slower decay cannot be told from noise.</summary>
    private const double MostAhead = 10;

    private readonly CircuitSystem system;
    private readonly PeriodicOptions options;
    private readonly IReadOnlyList<Probe> probes;
    private readonly double period;
    private readonly double[] x;
    private readonly double[] peak;
    private readonly double[] previous;
    private double[] sum;
    private double[]? mean;
    private double change = double.NaN;
    private double step;

    public Settling(CircuitSystem system, PeriodicOptions options, IReadOnlyList<Probe> probes, double period)
    {
        (this.system, this.options, this.probes, this.period) = (system, options, probes, period);
        x = new double[system.Size + 1];
        peak = new double[system.Size + 1];
        previous = new double[system.Size + 1];
        sum = new double[system.Size + 1];
    }

    /// <summary>Periods that the circuit took.</summary>
    public int Periods { get; private set; }

    /// <summary>True when the periods repeat.</summary>
    public bool Repeats { get; private set; }

    /// <summary>Largest change of an unknown over the last period, relative to its peak.</summary>
    public double Residual { get; private set; }

    /// <summary>The unknown that changes most, in words.</summary>
    public string Worst { get; private set; } = "";

    /// <summary>Runs until the periods repeat, or the limit is reached, and records what follows.</summary>
    /// <param name="start">Periods from the run's start after which the sources repeat.</param>
    public TransientResult Run(int start)
    {
        var limit = start + options.MostSettlingPeriods;
        var settings = options.Transient with { Stop = (limit + options.Periods + 1) * period };
        using var run = new TransientRun(system, settings);
        Recorder? recorder = null;
        var (number, seen, origin) = (start, 0, 0.0);
        while (recorder is null || run.Time < origin + options.Periods * period)
        {
            if (!run.Advance())
            {
                break;
            }

            for (var k = 1; k < peak.Length; k++)
            {
                peak[k] = Math.Max(peak[k], Math.Abs(run.State[k]));
            }

            for (; recorder is null && run.Time >= number * period; number++)
            {
                run.Interpolate(number * period, x);
                Repeats = Take();
                Periods = number - start;
                if (Repeats || number >= limit)
                {
                    origin = number * period;
                    recorder = new Recorder(system, probes, settings with { Start = origin });
                    recorder.Begin(run);
                    recorder.Follow(run);
                    seen = run.Events.Count;
                }
            }

            recorder?.Record(run);
        }

        return Cut(recorder, run, origin, run.Events.Skip(seen).Select(e => e with { Time = e.Time - origin }).ToList());
    }

    /// <summary>Takes the unknowns at a boundary; true when they repeat.</summary>
    private bool Take()
    {
        (Residual, var worst) = Largest(x, previous);
        Worst = system.Describe(worst);
        x.CopyTo(previous, 0);
        for (var k = 1; k < sum.Length; k++)
        {
            sum[k] += x[k] / Block;
        }

        if (++step % Block != 0)
        {
            return false;
        }

        var (before, average) = (change, sum);
        sum = new double[sum.Length];
        change = mean is null ? double.NaN : Largest(average, mean).Size;
        mean = average;
        for (var k = 1; k < peak.Length; k++)
        {
            peak[k] *= 0.5;
        }

        var left = change < before ? Math.Min(MostAhead, change / (before - change)) : MostAhead;
        return change * left <= options.Accuracy && Residual <= options.Accuracy;
    }

    private (double Size, int Row) Largest(double[] a, double[] b)
    {
        var (size, row) = (0.0, 0);
        foreach (var unknown in system.Unknowns)
        {
            var k = unknown.Index;
            var away = Math.Abs(a[k] - b[k]) / (peak[k] + ErrorScale.Floor(unknown.Kind));
            (size, row) = away > size ? (away, k) : (size, row);
        }

        return (size, row);
    }

    /// <summary>The record from its start to exactly the end of its last period.</summary>
    private TransientResult Cut(Recorder? recorder, TransientRun run, double origin, List<CircuitEvent> events)
    {
        double[][] columns = recorder is null ? [.. Enumerable.Range(0, probes.Count + 1).Select(_ => Array.Empty<double>())] : Columns.Of(recorder, probes.Count);
        var times = columns[0];
        var length = options.Periods * period;
        var inside = Array.FindIndex(times, t => t - origin >= length);
        if (inside > 0)
        {
            var share = (origin + length - times[inside - 1]) / (times[inside] - times[inside - 1]);
            columns = Array.ConvertAll(columns, v => (double[])[.. v[..inside], v[inside - 1] + share * (v[inside] - v[inside - 1])]);
        }

        var status = run.Status == RunStatus.Running ? RunStatus.Completed : run.Status;
        columns[0] = Array.ConvertAll(columns[0], t => Math.Max(0, t - origin));
        return new TransientResult(probes, Columns.Store(columns), run.Evidence, events, status);
    }
}
