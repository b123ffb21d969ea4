namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>Chooses how many periods are leapt over, from how the last leap fared.</summary>
internal sealed class LeapLength
{
    /// <summary>Shortest leap that is tried, in periods: with fewer the computed ones cost as much as they save.</summary>
    private const int Shortest = 2;

    private const double FirstReach = 4;
    private const int FirstRest = 3;
    private const int LongestRest = 48;

    private double reach = FirstReach;
    private int rest;
    private int nextRest = FirstRest;

    /// <summary>Number of periods to leap over now; 0 for none.</summary>
    /// <param name="history">What is known of increments.</param>
    /// <param name="left">Periods that are left of the run, this one included.</param>
    /// <param name="burst">Periods that are computed after a leap.</param>
    public int Propose(IncrementHistory history, int left, int burst)
    {
        if (rest > 0)
        {
            rest--;
            return 0;
        }

        // The polynomial reaches as far forward as its nodes go back, half at least.
        var length = (int)Math.Min(reach, left - burst);
        while (length >= Shortest && history.Pick(Envelope.Nodes, length + 1, int.MaxValue).Count < Envelope.Nodes)
        {
            length--;
        }

        return length >= Shortest ? length : 0;
    }

    /// <summary>A leap was taken.</summary>
    /// <param name="length">Its length in periods.</param>
    /// <param name="size">Its error in tolerances.</param>
    public void Accept(int length, double size)
    {
        nextRest = FirstRest;
        reach = Math.Max(Shortest, Scaled(length, Math.Clamp(0.85 * Math.Pow(size + 1e-6, -1.0 / Envelope.EstimateOrder), 0.3, 2)));
    }

    /// <summary>A leap was taken back.</summary>
    /// <param name="length">Its length in periods.</param>
    /// <param name="size">Its error in tolerances; infinite when something else happened there than before.</param>
    public void Reject(int length, double size)
    {
        reach = Math.Min(0.7 * length, Scaled(length, Math.Clamp(0.8 * Math.Pow(size, -1.0 / Envelope.EstimateOrder), 0.25, 0.9)));
        if (reach < Shortest)
        {
            (reach, rest) = (FirstReach, nextRest);
            nextRest = Math.Min(2 * nextRest, LongestRest);
        }
    }

    /// <summary>A leap was not tried because it would have failed before.</summary>
    /// <param name="length">Its length in periods.</param>
    /// <param name="size">The error that it would have had, in tolerances.</param>
    public void Hesitate(int length, double size)
    {
        reach = Math.Min(0.7 * length, Scaled(length, Math.Clamp(0.8 * Math.Pow(size, -1.0 / Envelope.EstimateOrder), 0.25, 0.9)));
        if (reach < Shortest)
        {
            // Trying in vain has cost nothing, but a leap of the shortest kind gains hardly more than a failed one costs.
            (reach, rest) = (FirstReach, 1);
        }
    }

    /// <summary>Something changed for good: start over.</summary>
    public void Restart() => (reach, rest) = (FirstReach, 0);

    /// <summary>Errors go with the distance from one computed period to the next, not with the number of those between.</summary>
    private static double Scaled(int length, double factor) => (length + Envelope.Burst) * factor - Envelope.Burst;
}
