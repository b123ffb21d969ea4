using System.Globalization;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// Searches the state that repeats after one period: first by what a period makes of small deviations, and where that is not to be
/// trusted by what the periods computed so far have in common.
/// </summary>
internal sealed class PeriodicSearch(CircuitSystem system, PeriodMap map, double accuracy, int mostPeriods)
{
    /// <summary>Part of an unexplained residual that may be left after a look along it.</summary>
    private const double Explained = 0.1;

    /// <summary>Share of the accuracy that the way to the fixed point may still have.</summary>
    private const double DistanceShare = 0.5;

    /// <summary>Length of a step along an unexplained residual, relative to the peaks.</summary>
    private const double FirstStep = 0.02;

    private readonly BoundaryScale scale = new(system);
    private readonly SecantHistory history = new();
    private readonly SearchSteps steps = new(system, map);

    /// <summary>Why no state was found, a sentence.</summary>
    public string Reason { get; private set; } = "the search has not been run";

    /// <summary>What the signals did in the period that began with the state; null when it has still to be recorded.</summary>
    public TransientResult? Recorded { get; private set; }

    /// <summary>Largest change over that period, relative to the peaks.</summary>
    public double Residual { get; private set; }

    /// <summary>Time constant in seconds of the slowest deviation, for a period of one second; null when it is not known.</summary>
    public double? SlowestPeriods { get; private set; }

    /// <summary>Searches.</summary>
    /// <returns>The state; null when there is none, or the run was interrupted.</returns>
    public PeriodBoundary? Find()
    {
        if (map.Lead() is not { } at)
        {
            return null;
        }

        var stability = new StabilityTest(map, scale);
        var search = new LinearSearch(system, map, scale, steps, stability);
        var found = search.Find(ref at, accuracy, mostPeriods, (start, end) => See(start, end));
        if (found is null && !search.IsOver)
        {
            map.Refine();
            found = FindBySecants(at, stability);
        }
        else
        {
            (SlowestPeriods, Recorded, Residual) = (PeriodsOf(search.Multiplier), search.Recorded, search.Residual);
        }

        Reason = stability.Reason ?? Reason;
        return found;
    }

    private PeriodBoundary? FindBySecants(PeriodBoundary at, StabilityTest stability)
    {
        var from = at;
        PeriodBoundary? lookedFrom = null;
        var unexplained = 0.0;
        while (map.Count < mostPeriods)
        {
            if (steps.Advance(from, ref at) is not { } end)
            {
                return null;
            }

            scale.Take(end, map.Peak);
            var residual = See(at, end);
            from = end;
            if (history.Count == 0)
            {
                at = end;
                continue;
            }

            var next = history.Next(scale, out var left);
            var distance = scale.Largest(next.Charge, end.Charge).Size;
            if (history.Count == 1)
            {
                at = Look(end, left);
            }
            else if (residual > accuracy || distance > DistanceShare * accuracy)
            {
                at = steps.Limited(end, next, distance);
            }
            else if (SecantSpan.Norm(left) < Explained * unexplained || (lookedFrom is not null && scale.Largest(end.Charge, lookedFrom.Charge).Size <= accuracy))
            {
                // Where the history suspects no single deviation that dominates, it suspects none.
                var multiplier = history.LargestMultiplier(scale, out var direction);
                SlowestPeriods = PeriodsOf(multiplier);
                return stability.Passes(end, multiplier ?? 0, direction) ? end : null;
            }
            else
            {
                // What no difference explains may be noise, or a drift so slow that noise hides its decay.
                (lookedFrom, unexplained) = (end, SecantSpan.Norm(left));
                at = Look(end, left);
            }
        }

        Reason += string.Create(CultureInfo.InvariantCulture, $" after {map.Count} periods of search");
        return null;
    }

    private static double? PeriodsOf(double? multiplier) => multiplier is > 0 and < 1 ? -1 / Math.Log(multiplier.Value) : null;

    /// <summary>Takes a computed period.</summary>
    /// <returns>The largest change over it, relative to the peaks.</returns>
    private double See(PeriodBoundary start, PeriodBoundary end)
    {
        var (residual, worst) = scale.Largest(end.Charge, start.Charge);
        if (steps.Changed(start, end) is { } part)
        {
            Reason = $"{part} is in another state at the end of the period than at its start";
            history.Clear();
            return residual;
        }

        Reason = steps.Problem ?? string.Create(CultureInfo.InvariantCulture, $"{system.Describe(worst)} still changes by {residual * 100:g2} % from period to period");
        history.Add(start, end);
        return residual;
    }

    /// <summary>A step along an unexplained residual, far above the noise of the step control: it shows how fast the map forgets it.</summary>
    private PeriodBoundary Look(PeriodBoundary start, double[] left)
    {
        var change = scale.Charge(left);
        var size = scale.Largest(change, new double[change.Length]).Size;
        var factor = size > 0 ? Math.Max(1, FirstStep / size) : 0;
        return start with { Charge = [.. start.Charge.Zip(change, (a, b) => a + factor * b)] };
    }
}
