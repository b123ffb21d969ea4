using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>The steps that a search for a periodic state may take: not where no solution is found, not past a threshold, not too long.</summary>
internal sealed class SearchSteps(CircuitSystem system, PeriodMap map)
{
    /// <summary>Longest step, relative to the peaks, where nothing is known of how straight the map is.</summary>
    private const double LongestStep = 2;

    /// <summary>Part of a step that is tried where the whole of it led where no solution was found, or past a threshold.</summary>
    private const double Shortening = 0.3;

    private const int MostShortenings = 6;

    /// <summary>Why the last period could not be computed at first, a sentence; null where it could.</summary>
    public string? Problem { get; private set; }

    /// <summary>Computes a period; where that fails, from a state nearer to the one that is known to work.</summary>
    /// <param name="known">The state that is known to work.</param>
    /// <param name="at">The state to start from; receives the one that was started from.</param>
    /// <param name="track">Receives the points of the period; null where nobody wants them.</param>
    /// <returns>The state at its end; null when the run was interrupted.</returns>
    public PeriodBoundary? Advance(PeriodBoundary known, ref PeriodBoundary at, PeriodTrack? track = null)
    {
        Problem = null;
        for (var attempt = 0; ; attempt++)
        {
            try
            {
                return map.Advance(at, track);
            }
            catch (SolverException e) when (!ReferenceEquals(known, at))
            {
                Problem = e.Message;
                at = attempt < MostShortenings ? Along(known, at, Shortening) : known;
            }
        }
    }

    /// <summary>Shortens a step that is very long, or that would carry a discrete device past its threshold without an event.</summary>
    /// <param name="from">Where the step begins.</param>
    /// <param name="to">Where it leads.</param>
    /// <param name="distance">Its length relative to the peaks.</param>
    /// <param name="bend">Part of a step by which the map has been found to be no straight line, 0..1; 1 where nothing is known.</param>
    public PeriodBoundary Limited(PeriodBoundary from, PeriodBoundary to, double distance, double bend = 1)
    {
        var next = distance * bend > LongestStep ? Along(from, to, LongestStep / (distance * bend)) : to;
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

    /// <summary>Name of a device that is in another state at the one boundary than at the other; null when there is none.</summary>
    public string? Changed(PeriodBoundary a, PeriodBoundary b)
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

    private static PeriodBoundary Along(PeriodBoundary from, PeriodBoundary to, double factor) => to with
    {
        Charge = Line(from.Charge, to.Charge, factor),
        State = Line(from.State, to.State, factor),
    };

    private static double[] Line(double[] from, double[] to, double factor) => [.. from.Zip(to, (a, b) => a + factor * (b - a))];

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
}
