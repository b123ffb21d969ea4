using System.Diagnostics;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>Takes the time of something that is quick and repeatable.</summary>
internal static class Timing
{
    private const int Rounds = 15;
    private const double Enough = 0.6;

    /// <summary>The shortest of several rounds, in seconds: whatever else the machine does only ever adds.</summary>
    /// <param name="work">What is timed.</param>
    public static double Shortest(Action work)
    {
        var (best, total) = (double.PositiveInfinity, 0.0);
        for (var round = 0; round < Rounds && total < Enough; round++)
        {
            var watch = Stopwatch.StartNew();
            work();
            var seconds = watch.Elapsed.TotalSeconds;
            (best, total) = (Math.Min(best, seconds), total + seconds);
        }

        return best;
    }
}
