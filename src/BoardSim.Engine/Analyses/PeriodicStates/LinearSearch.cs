using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// Searches the state that repeats by Newton's method: what a period makes of small deviations tells where it is. That is believed
/// only where two periods from different starts have told the same, since what is known of deviations is not exact and need not be right
/// at all where parts remember more than their charges. The last period is the record as well.
/// </summary>
internal sealed class LinearSearch(CircuitSystem system, PeriodMap map, BoundaryScale scale, SearchSteps steps, StabilityTest stability)
{
    /// <summary>What two predictions may be apart, relative to the starts that they were made from.</summary>
    private const double Trusted = 0.5;

    /// <summary>Share of the accuracy that the way to the fixed point may still have.</summary>
    private const double DistanceShare = 0.5;

    /// <summary>Predictions that may be poor, or states that differ at the period's end, before another method is asked.</summary>
    private const int MostMisses = 3;

    /// <summary>What two predictions may be apart where what is known of deviations is used for one more period.</summary>
    private const double Straight = 0.2;

    /// <summary>Periods after which another method is asked in any case: Newton's does not take that many unless noise keeps it from getting there.</summary>
    private const int MostPeriods = 12;

    /// <summary>Least distance of two starts, in accuracies, from which predictions tell anything about each other.</summary>
    private const double LeastApart = 10;

    /// <summary>Factor per period of the slowest deviation beyond which periods have to be more accurate than asked. What each of them misses counts 400 times there; it is
    /// a four-thousandth of the accuracy for a flyback's mean.</summary>
    private const double Slow = 0.9975;

    /// <summary>Distance that starts are put apart by otherwise, relative to the peaks.</summary>
    private const double Apart = 0.02;

    private readonly PeriodSensitivity sensitivity = new(system);
    private readonly PeriodTrack track = new(map.Period);

    /// <summary>True when the search need not go on by another method: the run was interrupted, or the state is not stable.</summary>
    public bool IsOver { get; private set; }

    /// <summary>What the signals did in the last period, when the state was found: that period began with it.</summary>
    public TransientResult? Recorded { get; private set; }

    /// <summary>Largest change over that period, relative to the peaks.</summary>
    public double Residual { get; private set; }

    /// <summary>Factor by which the slowest deviation is multiplied per period; null when it is not known.</summary>
    public double? Multiplier { get; private set; }

    /// <summary>Searches.</summary>
    /// <param name="at">The state to begin from; receives the one to go on from when nothing was found.</param>
    /// <param name="accuracy">Relative accuracy.</param>
    /// <param name="mostPeriods">Periods that the whole search may compute.</param>
    /// <param name="seen">Called with start and end of each period.</param>
    /// <returns>The state; null when it was not found.</returns>
    public PeriodBoundary? Find(ref PeriodBoundary at, double accuracy, int mostPeriods, Action<PeriodBoundary, PeriodBoundary> seen)
    {
        var from = at;
        (PeriodBoundary Start, PeriodBoundary Goal)? before = null;
        var ratio = 1.0;
        LinearPeriod? period = null;
        for (var misses = 0; misses < MostMisses && map.Count < Math.Min(MostPeriods, mostPeriods);)
        {
            if (steps.Advance(from, ref at, track) is not { } end)
            {
                IsOver = true;
                return null;
            }

            scale.Take(end, map.Peak);
            seen(at, end);
            from = end;
            if (steps.Changed(at, end) is not null)
            {
                (at, before, ratio) = (end, null, 1);
                misses++;
                continue;
            }

            period = ratio < Straight ? period : Linearise(at);
            if (period is null || Goal(period, at, end) is not { } goal)
            {
                at = end;
                return null;
            }

            if (before is null && SlowestOf(period, at, out _) is > Slow and < 1 / Slow)
            {
                map.Refine();
            }

            var away = scale.Largest(goal.Charge, at.Charge).Size;
            if (before is { } last && scale.Largest(at.Charge, last.Start.Charge).Size > LeastApart * accuracy)
            {
                ratio = Math.Min(1, Distance(goal, last.Goal) / Distance(at, last.Start));
                misses += ratio < Trusted ? 0 : 1;
            }

            if (ratio < Trusted && away <= DistanceShare * accuracy)
            {
                return Judge(period, at, end);
            }

            before = (at, goal);
            at = away > LeastApart * accuracy || ratio < Trusted
                ? steps.Limited(end, goal, scale.Largest(goal.Charge, end.Charge).Size, ratio)
                : Beside(goal, period, at);
        }

        at = from;
        return null;
    }

    private double Distance(PeriodBoundary a, PeriodBoundary b) => SecantSpan.Norm(scale.Energetic(a.Charge, b.Charge));

    private LinearPeriod? Linearise(PeriodBoundary at) => sensitivity.Follow(at, map.Origin, track) ? new LinearPeriod(sensitivity, scale) : null;

    /// <summary>Where the state that repeats would be if the period were linear.</summary>
    private static PeriodBoundary? Goal(LinearPeriod period, PeriodBoundary at, PeriodBoundary end) =>
        period.Correction(Minus(end.Charge, at.Charge)) is { } correction && Array.TrueForAll(correction.Charge, double.IsFinite)
            ? end with { Charge = Plus(end.Charge, correction.Charge, 1), State = Plus(end.State, correction.State, 1) }
            : null;

    /// <summary>A start beside the goal, along the deviation that dies away most slowly.</summary>
    private PeriodBoundary Beside(PeriodBoundary goal, LinearPeriod period, PeriodBoundary at)
    {
        SlowestOf(period, at, out var slowest);
        var size = scale.Largest(slowest.Charge, new double[slowest.Charge.Length]).Size;
        var factor = size > 0 ? Apart / size : 0;
        return steps.Limited(goal, goal with { Charge = Plus(goal.Charge, slowest.Charge, factor), State = Plus(goal.State, slowest.State, factor) }, Apart, 1);
    }

    private PeriodBoundary? Judge(LinearPeriod period, PeriodBoundary at, PeriodBoundary end)
    {
        (Recorded, Residual) = (map.Recorded(), scale.Largest(end.Charge, at.Charge).Size);
        Multiplier = SlowestOf(period, at, out var direction);
        IsOver = !stability.Passes(at, Multiplier.Value, direction.Charge);
        return IsOver ? null : at;
    }

    private double SlowestOf(LinearPeriod period, PeriodBoundary at, out (double[] Charge, double[] State) direction) =>
        period.Multiplier(Minus(track.HalfWay, at.Charge), out direction);

    private static double[] Minus(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x - y)];

    private static double[] Plus(double[] a, double[] b, double factor) => [.. a.Zip(b, (x, y) => x + factor * y)];
}
