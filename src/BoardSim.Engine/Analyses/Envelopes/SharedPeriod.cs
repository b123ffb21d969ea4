using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>The one period in which all that happens in a circuit at instants known in advance repeats.</summary>
internal static class SharedPeriod
{
    /// <summary>Periods count as one when they agree to this.</summary>
    private const double Agreement = 1e-9;

    /// <summary>Finds the period from an instant on.</summary>
    /// <param name="timed">All devices whose law depends on time.</param>
    /// <param name="time">The instant in seconds.</param>
    /// <param name="until">Receives the instant up to which it holds.</param>
    /// <returns>The period in seconds; null when there is none, or more than one.</returns>
    public static double? Find(ITimed[] timed, double time, out double until)
    {
        double? period = null;
        until = double.PositiveInfinity;
        foreach (var device in timed)
        {
            var law = device.RepetitionAt(time);
            until = Math.Min(until, law.Until);
            if (law.Period == 0)
            {
                continue;
            }

            if (!double.IsFinite(law.Period) || Math.Abs(law.Period - (period ?? law.Period)) > Agreement * law.Period)
            {
                return null;
            }

            period = law.Period;
        }

        return period;
    }

    /// <summary>
    /// The first instant at the calmest phase: the corner with the longest stretch without any corner before it. What the last corner
    /// excited has died down as far as it ever does, so the state there changes most smoothly from period to period. Of a device with a clock of its
    /// own only the next edge is known, and that is it.
    /// </summary>
    /// <param name="timed">All devices whose law depends on time.</param>
    /// <param name="corners">Their corners.</param>
    /// <param name="time">Present time in seconds.</param>
    /// <param name="period">The shared period in seconds.</param>
    public static double CalmInstant(ITimed[] timed, SourceCorners corners, double time, double period)
    {
        foreach (var device in timed)
        {
            if (device.RepetitionAt(time).Edge is var edge && double.IsFinite(edge))
            {
                return edge;
            }
        }

        var (before, best, longest) = (time, double.PositiveInfinity, 0.0);
        var first = double.NaN;
        while (true)
        {
            var at = corners.Next(before, out _);
            if (double.IsNaN(first))
            {
                first = at;
            }
            else if (at - before > longest * (1 + Agreement))
            {
                (longest, best) = (at - before, at);
            }

            if (!(at < first + period * (1 - Agreement)))
            {
                return best;
            }

            before = at;
        }
    }
}
