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

    /// <summary>Periods over which the run's peaks fade: those of one period have to hold through the next, or what is small at its end is computed more accurately than asked.</summary>
    private const int Fading = 16;

    private readonly CircuitSystem system;
    private readonly PeriodicOptions options;
    private readonly IReadOnlyList<Probe> probes;
    private readonly double[] peak;
    private TransientRun run;
    private SolverEvidence? before;
    private PeriodRecord? record;

    /// <summary>Prepares the map.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">How the run starts and how accurate it is.</param>
    /// <param name="probes">Signals to record.</param>
    /// <param name="period">Length of a period in seconds, positive.</param>
    /// <param name="lead">Number of periods, 1 or more, from the run's start to the mapped period.</param>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="SolverException">The run could not start.</exception>
    public PeriodMap(CircuitSystem system, PeriodicOptions options, IReadOnlyList<Probe> probes, double period, int lead)
    {
        (this.system, this.options, this.probes) = (system, options, probes);
        Period = period;
        Origin = lead * period;
        run = new TransientRun(system, options.Transient with { Start = 0, Stop = (lead + 1) * period, Fading = Fading * period });
        peak = new double[system.Size + 1];
    }

    /// <summary>Length of a period in seconds.</summary>
    public double Period { get; }

    /// <summary>Start of the mapped period in seconds: the phase that all boundaries share.</summary>
    public double Origin { get; }

    /// <summary>Largest values of late, by unknown, that the run's tolerances are relative to.</summary>
    public double[] Tolerated => run.Peaks;

    /// <summary>Largest magnitude of each unknown of late.</summary>
    public ReadOnlySpan<double> Peak => peak;

    /// <summary>Periods computed so far, those of the lead not counted.</summary>
    public int Count { get; private set; }

    /// <summary>How the run fared so far.</summary>
    public SolverEvidence Evidence => before is null ? run.Evidence : SolverEvidence.Total([before, run.Evidence]) with
    {
        // Balances are those of the last period.
        PowerBalance = run.Evidence.PowerBalance,
        SourceEnergy = run.Evidence.SourceEnergy,
        WorstKclResidual = run.Evidence.WorstKclResidual,
        WorstHeatResidual = run.Evidence.WorstHeatResidual,
        Start = run.Evidence.Start,
    };

    /// <summary>True when periods are computed more accurately than asked.</summary>
    public bool IsRefined => before is not null;

    /// <summary>How periods are computed.</summary>
    public TransientOptions Settings => IsRefined ? options.Refined : options.Transient;

    /// <summary>Whether the last period was completed, and why not.</summary>
    public RunStatus Status { get; private set; } = RunStatus.Running;

    /// <summary>Runs from the run's own start to the end of the mapped period.</summary>
    /// <returns>The state there; null when the run was cancelled or ran out of time.</returns>
    /// <exception cref="SolverException">The run got stuck on the way.</exception>
    public PeriodBoundary? Lead() => ToEnd();

    /// <summary>Advances by one period.</summary>
    /// <param name="from">State at the start of the period.</param>
    /// <param name="track">Receives the points of the period; null where nobody wants them.</param>
    /// <returns>The state at its end; null when the run was cancelled or ran out of time.</returns>
    /// <exception cref="SolverException">The run got stuck on the way.</exception>
    public PeriodBoundary? Advance(PeriodBoundary from, PeriodTrack? track = null)
    {
        Count++;
        from.Resume(system, run, Origin);
        run.BeforeEvents = null;
        track?.Begin(run);
        record = track is null ? null : new PeriodRecord(system, options, probes, run);
        return ToEnd(track);
    }

    /// <summary>From here on periods are computed more accurately than asked.</summary>
    /// <exception cref="SolverException">The run could not start.</exception>
    public void Refine()
    {
        if (IsRefined)
        {
            return;
        }

        before = run.Evidence;
        var peaks = run.Peaks;
        run.Dispose();
        run = new TransientRun(system, options.Refined with
        {
            Start = 0,
            Stop = Origin + Period,
            Fading = Fading * Period,
            WallClockLimit = options.WallClockLimit - TimeSpan.FromSeconds(before.WallSeconds),
        })
        {
            Peaks = peaks,
        };
    }

    /// <summary>What the signals did in the last period.</summary>
    /// <exception cref="InvalidOperationException">The points of that period were not tracked.</exception>
    public TransientResult Recorded() => record?.Finish() ?? throw new InvalidOperationException("The last period was not recorded.");

    /// <inheritdoc/>
    public void Dispose() => run.Dispose();

    private PeriodBoundary? ToEnd(PeriodTrack? track = null)
    {
        for (var k = 1; k < peak.Length; k++)
        {
            peak[k] *= Memory;
        }

        while (run.Advance())
        {
            track?.Take(system, run);
            record?.Take();
            var x = run.State;
            for (var k = 1; k < peak.Length; k++)
            {
                peak[k] = Math.Max(peak[k], Math.Abs(x[k]));
            }
        }

        Status = run.Status;
        return Status == RunStatus.Completed ? PeriodBoundary.Of(system, run) : null;
    }
}
