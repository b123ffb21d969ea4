namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>Takes the time of something that is repeatable.</summary>
internal static class Timing
{
    /// <summary>Seconds that are spent on one time; what takes longer is not repeated.</summary>
    public const double Enough = 0.6;

    private const int Rounds = 15;

    /// <summary>Processor time of this process so far, in seconds. Where other work runs on the machine the wall clock says little of a run that
    /// is longer than a slice of the scheduler's.</summary>
    public static double Now => Environment.CpuUsage.TotalTime.TotalSeconds;

    /// <summary>The shortest of several rounds, in seconds of processor time: whatever else the process does, compiling say, only ever adds.</summary>
    /// <param name="work">What is timed.</param>
    public static double Shortest(Action work)
    {
        var (best, total) = (double.PositiveInfinity, 0.0);
        for (var round = 0; round < Rounds && total < Enough; round++)
        {
            var begun = Now;
            work();
            var seconds = Now - begun;
            (best, total) = (Math.Min(best, seconds), total + seconds);
        }

        return best;
    }
}
