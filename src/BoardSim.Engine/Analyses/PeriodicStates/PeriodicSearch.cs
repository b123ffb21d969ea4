using System.Globalization;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Searches the state that repeats after one period: advances by a period, combines what was seen, and goes on from there.</summary>
internal sealed class PeriodicSearch(CircuitSystem system, PeriodMap map, double accuracy, int mostPeriods)
{
    /// <summary>Part of an unexplained residual that may be left after a look along it.</summary>
    private const double Explained = 0.1;

    /// <summary>Share of the accuracy that the way to the fixed point may still have.</summary>
    private const double DistanceShare = 0.5;

    /// <summary>Longest step, relative to the peaks: the map is no straight line.</summary>
    private const double LongestStep = 2;

    /// <summary>Length of a step along an unexplained residual, relative to the peaks.</summary>
    private const double FirstStep = 0.02;

    /// <summary>Part of a step that is tried where the whole of it led where no solution was found, or past a threshold.</summary>
    private const double Shortening = 0.3;

    private const int MostShortenings = 6;

    private readonly BoundaryScale scale = new(system);
    private readonly SecantHistory history = new();

    /// <summary>Why no state was found, a sentence.</summary>
    public string Reason { get; private set; } = "the search has not been run";

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

        var from = at;
        PeriodBoundary? lookedFrom = null;
        var unexplained = 0.0;
        while (map.Count < mostPeriods)
        {
            if (Advance(from, ref at) is not { } end)
            {
                return null;
            }

            scale.Take(end, map.Peak);
            from = end;
            if (Changed(at, end) is { } part)
            {
                Reason = $"{part} is in another state at the end of the period than at its start";
                history.Clear();
                at = end;
                continue;
            }

            var (residual, worst) = scale.Largest(end.Charge, at.Charge);
            Reason = string.Create(CultureInfo.InvariantCulture, $"{system.Describe(worst)} still changes by {residual * 100:g2} % from period to period");
            history.Add(at, end);
            var next = history.Next(scale, out var left);
            var distance = scale.Largest(next.Charge, end.Charge).Size;
            if (map.Count == 1)
            {
                at = Look(end, left);
            }
            else if (residual > accuracy || distance > DistanceShare * accuracy)
            {
                at = Limited(end, next, distance);
            }
            else if (SecantSpan.Norm(left) < Explained * unexplained || (lookedFrom is not null && scale.Largest(end.Charge, lookedFrom.Charge).Size <= accuracy))
            {
                return IsStable(end) ? end : null;
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

    /// <summary>A step along an unexplained residual, far above the noise of the step control: it shows how fast the map forgets it.</summary>
    private PeriodBoundary Look(PeriodBoundary start, double[] left)
    {
        var change = scale.Charge(left);
        var size = scale.Largest(change, new double[change.Length]).Size;
        var factor = size > 0 ? Math.Max(1, FirstStep / size) : 0;
        return start with { Charge = [.. start.Charge.Zip(change, (a, b) => a + factor * b)] };
    }

    private static PeriodBoundary Along(PeriodBoundary from, PeriodBoundary to, double factor) => to with
    {
        Charge = Line(from.Charge, to.Charge, factor),
        State = Line(from.State, to.State, factor),
    };

    private static double[] Line(double[] from, double[] to, double factor) => [.. from.Zip(to, (a, b) => a + factor * (b - a))];

    private string? Changed(PeriodBoundary a, PeriodBoundary b)
    {
        for (var d = 0; d < a.Discrete.Length; d++)
        {
            if (a.Discrete[d] != b.Discrete[d])
            {
                return ((Device)system.Discrete[d]).Name;
            }
        }

        return null;
    }

    /// <summary>Computes a period; where that fails, from a state nearer to the one that is known to work.</summary>
    private PeriodBoundary? Advance(PeriodBoundary known, ref PeriodBoundary at)
    {
        for (var attempt = 0; ; attempt++)
        {
            try
            {
                return map.Advance(at);
            }
            catch (SolverException e) when (!ReferenceEquals(known, at))
            {
                Reason = e.Message;
                at = attempt < MostShortenings ? Along(known, at, Shortening) : known;
            }
        }
    }

    /// <summary>Shortens a step that is very long, or that would carry a discrete device past its threshold without an event.</summary>
    private PeriodBoundary Limited(PeriodBoundary from, PeriodBoundary to, double distance)
    {
        var next = distance > LongestStep ? Along(from, to, LongestStep / distance) : to;
        for (var attempt = 0; PassesThreshold(from, next); attempt++)
        {
            if (attempt == MostShortenings)
            {
                return from;
            }

            next = Along(from, next, Shortening);
        }

        return next;
    }

    private bool PassesThreshold(PeriodBoundary from, PeriodBoundary to)
    {
        foreach (var device in system.Discrete)
        {
            var (a, b) = (new double[device.GuardCount], new double[device.GuardCount]);
            device.Guards(map.Origin, from.State, a);
            device.Guards(map.Origin, to.State, b);
            for (var g = 0; g < a.Length; g++)
            {
                if (a[g] < 0 && b[g] >= 0)
                {
                    return true;
                }
            }
        }

        return false;
    }

    /// <summary>
    /// Where the history suspects a deviation that grows, it is put to the test: a search finds unstable states as well, and no
    /// circuit stays in one.
    /// </summary>
    private bool IsStable(PeriodBoundary found)
    {
        const double suspicious = 1.02;
        const int rounds = 4;
        var multiplier = history.LargestMultiplier(scale, out var direction);
        SlowestPeriods = multiplier is > 0 and < 1 ? -1 / Math.Log(multiplier.Value) : null;
        if (multiplier is null || Math.Abs(multiplier.Value) < suspicious)
        {
            return true;
        }

        var away = (double[])found.Charge.Clone();
        var unit = scale.Largest(direction, new double[direction.Length]).Size;
        for (var k = 1; k < away.Length; k++)
        {
            away[k] += FirstStep / unit * direction[k];
        }

        var at = found with { Charge = away };
        var first = SecantSpan.Norm(scale.Energetic(at.Charge, found.Charge));
        for (var round = 0; round < rounds; round++)
        {
            if (map.Advance(at) is not { } end)
            {
                return false;
            }

            at = end;
        }

        var growth = Math.Pow(SecantSpan.Norm(scale.Energetic(at.Charge, found.Charge)) / first, 1.0 / rounds);
        Reason = string.Create(CultureInfo.InvariantCulture, $"the state that repeats is not stable: a deviation grows {growth:g3}-fold per period, and the circuit goes elsewhere");
        return growth < 1;
    }
}
