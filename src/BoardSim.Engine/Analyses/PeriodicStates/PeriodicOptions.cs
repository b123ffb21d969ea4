using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Settings of a search for the periodic steady state.</summary>
public sealed record PeriodicOptions
{
    /// <summary>Period in seconds, positive; null for the common period of the sources.</summary>
    public double? Period { get; init; }

    /// <summary>Periods to record once the state is found, 1 or more.</summary>
    public int Periods { get; init; } = 1;

    /// <summary>Relative accuracy asked, 1e-8 to 0.1: of each period, and of how well it repeats.</summary>
    public double Accuracy { get; init; } = 1e-3;

    /// <summary>True starts the search from initial conditions instead of an operating point.</summary>
    public bool UseInitialConditions { get; init; }

    /// <summary>Periods that the circuit runs by itself before the search begins, 1 or more: what is fast settles, switches find their state.</summary>
    public int Lead { get; init; } = 2;

    /// <summary>Periods that the search may compute, 2 or more, before it gives up and lets the circuit settle.</summary>
    public int MostSearchPeriods { get; init; } = 60;

    /// <summary>Periods, 0 or more, that the circuit may take to settle by itself when the search has failed.</summary>
    public int MostSettlingPeriods { get; init; } = 2000;

    /// <summary>Resolution in seconds that the record needs; see <see cref="TransientOptions.Resolution"/>.</summary>
    public double Resolution { get; init; }

    /// <summary>Integration method; null for the default.</summary>
    public StageMethod? Method { get; init; }

    /// <summary>Wall-clock limit of search and record together; what was found by then is told.</summary>
    public TimeSpan? WallClockLimit { get; init; }

    /// <summary>Cancels search or record.</summary>
    public CancellationToken Cancellation { get; init; }

    /// <summary>Checks the settings.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A setting is out of range.</exception>
    public void Validate()
    {
        Require(Period is null or (> 0 and < double.PositiveInfinity), nameof(Period), Period, "positive and finite");
        Require(Periods >= 1, nameof(Periods), Periods, "1 or more");
        Require(Lead >= 1, nameof(Lead), Lead, "1 or more");
        Require(MostSearchPeriods >= 2, nameof(MostSearchPeriods), MostSearchPeriods, "2 or more");
        Require(MostSettlingPeriods >= 0, nameof(MostSettlingPeriods), MostSettlingPeriods, "zero or more");
    }

    /// <summary>Settings of the transient runs that it is made of.</summary>
    internal TransientOptions Transient => new()
    {
        Accuracy = Accuracy,
        UseInitialConditions = UseInitialConditions,
        Resolution = Resolution,
        Method = Method,
        WallClockLimit = WallClockLimit,
        Cancellation = Cancellation,
    };

    /// <summary>
    /// Settings of runs that search and record where deviations decay slowly. They are more accurate than asked: what a period misses is missed again in each of the hundreds of
    /// periods that a slow decay would take, so that it counts that much more in where the circuit ends. Beyond 1e-5 noise is no trouble.
    /// </summary>
    internal TransientOptions Refined => Transient with { Accuracy = Math.Min(Accuracy, Math.Max(0.2 * Accuracy, 1e-5)) };

    private static void Require(bool holds, string name, object? value, string legal)
    {
        if (!holds)
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}; it must be {legal}.");
        }
    }
}
