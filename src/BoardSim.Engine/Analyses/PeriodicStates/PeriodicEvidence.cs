namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>How a periodic state came about.</summary>
public enum PeriodicOutcome
{
    /// <summary>The search found it.</summary>
    Found,

    /// <summary>The search did not find it; the circuit settled into it by itself.</summary>
    Settled,

    /// <summary>Neither search nor settling led to a state that repeats: what is recorded is how the circuit ran on.</summary>
    NotPeriodic,

    /// <summary>Cancelled or out of time before there was anything to record.</summary>
    Interrupted,
}

/// <summary>How a periodic state was found, and how well it repeats.</summary>
public sealed record PeriodicEvidence
{
    /// <summary>How it came about.</summary>
    public required PeriodicOutcome Outcome { get; init; }

    /// <summary>The period in seconds.</summary>
    public required double Period { get; init; }

    /// <summary>Periods that the circuit ran by itself before the search.</summary>
    public int LeadPeriods { get; init; }

    /// <summary>Periods that the search computed, those that look whether the state is stable included.</summary>
    public int SearchPeriods { get; init; }

    /// <summary>Periods that were computed for the record alone; 0 where the last period of the search is the record.</summary>
    public int RecordPeriods { get; init; }

    /// <summary>Periods that the circuit took to settle, where the search had failed.</summary>
    public int SettlingPeriods { get; init; }

    /// <summary>
    /// Largest difference of any charge or flux between start and end of the record, as a part of the whole that it reaches; the
    /// accuracy asked is the measure for it.
    /// </summary>
    public double Residual { get; init; }

    /// <summary>Time constant in seconds of the slowest deviation that the search met: what settling would have taken; null when it is not known.</summary>
    public double? SlowestTimeConstant { get; init; }

    /// <summary>Why the search failed, a sentence; null when it did not.</summary>
    public string? Reason { get; init; }
}
