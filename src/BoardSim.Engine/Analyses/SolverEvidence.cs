namespace BoardSim.Engine.Analyses;

/// <summary>What a run did and how well its equations hold, so that a reader can judge its figures.</summary>
public sealed record SolverEvidence
{
    /// <summary>Accepted points (steps of a transient, points of a sweep).</summary>
    public long Points { get; init; }

    /// <summary>Steps tried and rejected, for their error or for want of convergence.</summary>
    public long Rejected { get; init; }

    /// <summary>Steps taken although their error estimate was too large, because it did not fall with the step: rounding, or an
    /// unknown that is the derivative of others. Normally zero or a few.</summary>
    public long Forced { get; init; }

    /// <summary>Newton iterations, all stages and attempts together.</summary>
    public long NewtonIterations { get; init; }

    /// <summary>Numeric factorisations of the Jacobian.</summary>
    public long Factorizations { get; init; }

    /// <summary>Guard crossings that were located and served.</summary>
    public long Events { get; init; }

    /// <summary>Whole periods of the sources that were computed where leaps were tried, trials included; 0 for a plain run.</summary>
    public long PeriodsComputed { get; init; }

    /// <summary>Periods that were leapt over: their waveforms are interpolated from computed neighbours, not computed.</summary>
    public long PeriodsInterpolated { get; init; }

    /// <summary>Largest sum of currents found at any node of an accepted point, in amperes; it should be zero.</summary>
    public double WorstKclResidual { get; init; }

    /// <summary>Largest sum of heat found at any node of a thermal equivalent circuit, in watts; it should be zero.</summary>
    public double WorstHeatResidual { get; init; }

    /// <summary>
    /// Error of the energy balance over the run, relative to the energy turned over: sources' work minus dissipation minus
    /// growth of the stored energy (Tellegen's theorem, integrated). It measures the discretisation in time.
    /// </summary>
    public double PowerBalance { get; init; }

    /// <summary>Energy in joules that the independent sources delivered over the run.</summary>
    public double SourceEnergy { get; init; }

    /// <summary>How the operating point was found: <c>newton</c>, <c>gmin stepping</c>, <c>source stepping</c>,
    /// <c>pseudo-transient</c>, or <c>initial conditions</c>.</summary>
    public string Start { get; init; } = "";

    /// <summary>Wall-clock seconds of the analysis alone.</summary>
    public double WallSeconds { get; init; }

    /// <summary>Evidence of several runs together: counts, energies and times add up, residuals and imbalances keep their worst.</summary>
    /// <param name="parts">Evidence of each run; none gives zeros.</param>
    public static SolverEvidence Total(IReadOnlyCollection<SolverEvidence> parts) => new()
    {
        Points = parts.Sum(e => e.Points),
        Rejected = parts.Sum(e => e.Rejected),
        Forced = parts.Sum(e => e.Forced),
        NewtonIterations = parts.Sum(e => e.NewtonIterations),
        Factorizations = parts.Sum(e => e.Factorizations),
        Events = parts.Sum(e => e.Events),
        PeriodsComputed = parts.Sum(e => e.PeriodsComputed),
        PeriodsInterpolated = parts.Sum(e => e.PeriodsInterpolated),
        WorstKclResidual = parts.Select(e => e.WorstKclResidual).DefaultIfEmpty(0).Max(),
        WorstHeatResidual = parts.Select(e => e.WorstHeatResidual).DefaultIfEmpty(0).Max(),
        PowerBalance = parts.Select(e => e.PowerBalance).DefaultIfEmpty(0).Max(),
        SourceEnergy = parts.Sum(e => e.SourceEnergy),
        Start = string.Join(", ", parts.Select(e => e.Start).Distinct(StringComparer.Ordinal)),
        WallSeconds = parts.Sum(e => e.WallSeconds),
    };
}
