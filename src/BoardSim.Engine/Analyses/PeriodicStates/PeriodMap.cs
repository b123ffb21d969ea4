using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// Advances a circuit by exactly one period from any state: the map whose fixed point is the periodic steady state. It is
/// always the same stretch of time that is computed, so the sources are at the same phase each time.
/// </summary>
internal sealed class PeriodMap : IDisposable
{
    /// <summary>Part of a former period's peak that is remembered in the next.</summary>
    private const double Memory = 0.5;

    private readonly CircuitSystem system;
    private readonly TransientRun run;
    private readonly double[] peak;

    /// <summary>Prepares the map.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">How the run starts and how accurate it is; its stretch of time is set here.</param>
    /// <param name="period">Length of a period in seconds, positive.</param>
    /// <param name="lead">Number of periods, 1 or more, from the run's start to the mapped period.</param>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="SolverException">The run could not start.</exception>
    public PeriodMap(CircuitSystem system, TransientOptions options, double period, int lead)
    {
        this.system = system;
        Origin = lead * period;
        run = new TransientRun(system, options with { Start = 0, Stop = (lead + 1) * period });
        peak = new double[system.Size + 1];
    }

    /// <summary>Start of the mapped period in seconds: the phase that all boundaries share.</summary>
    public double Origin { get; }

    /// <summary>Largest magnitude of each unknown of late.</summary>
    public ReadOnlySpan<double> Peak => peak;

    /// <summary>Periods computed so far, those of the lead not counted.</summary>
    public int Count { get; private set; }

    /// <summary>How the run fared so far.</summary>
    public SolverEvidence Evidence => run.Evidence;

    /// <summary>Whether the last period was completed, and why not.</summary>
    public RunStatus Status => run.Status;

    /// <summary>Runs from the run's own start to the end of the mapped period.</summary>
    /// <returns>The state there; null when the run was cancelled or ran out of time.</returns>
    /// <exception cref="SolverException">The run got stuck on the way.</exception>
    public PeriodBoundary? Lead() => ToEnd();

    /// <summary>Advances by one period.</summary>
    /// <param name="from">State at the start of the period.</param>
    /// <returns>The state at its end; null when the run was cancelled or ran out of time.</returns>
    /// <exception cref="SolverException">The run got stuck on the way.</exception>
    public PeriodBoundary? Advance(PeriodBoundary from)
    {
        Count++;
        from.Resume(system, run, Origin);
        return ToEnd();
    }

    /// <inheritdoc/>
    public void Dispose() => run.Dispose();

    private PeriodBoundary? ToEnd()
    {
        for (var k = 1; k < peak.Length; k++)
        {
            peak[k] *= Memory;
        }

        while (run.Advance())
        {
            var x = run.State;
            for (var k = 1; k < peak.Length; k++)
            {
                peak[k] = Math.Max(peak[k], Math.Abs(x[k]));
            }
        }

        return run.Status == RunStatus.Completed ? PeriodBoundary.Of(system, run) : null;
    }
}
