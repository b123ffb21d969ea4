using System.Diagnostics;
using System.Globalization;

namespace BoardSim.Engine.Analyses;

/// <summary>What may end an analysis before its end. What has been computed until then is kept, and marked as partial.</summary>
public sealed record RunLimits
{
    /// <summary>Most values that are recorded unless told otherwise: samples times signals, 8 bytes each.</summary>
    public const long UsualMostValues = 50_000_000;

    /// <summary>Wall-clock limit; null for none.</summary>
    public TimeSpan? WallClock { get; init; }

    /// <summary>Cancels the analysis.</summary>
    public CancellationToken Cancellation { get; init; }

    /// <summary>Most values that are recorded, samples times signals; 50 million unless set.</summary>
    public long MostValues { get; init; } = UsualMostValues;

    /// <summary>How the analysis stands: running, cancelled or out of time.</summary>
    internal RunStatus Check(Stopwatch watch) =>
        Cancellation.IsCancellationRequested ? RunStatus.Cancelled
            : WallClock is { } limit && watch.Elapsed >= limit ? RunStatus.TimedOut
            : RunStatus.Running;

    /// <summary>Most samples that so many signals leave room for, at least one.</summary>
    internal long MostSamples(int signals) => Math.Max(1, MostValues / Math.Max(1, signals));

    /// <summary>A time limit in words.</summary>
    internal static string Show(TimeSpan limit) => limit.TotalSeconds.ToString("0.###", CultureInfo.InvariantCulture) + " s";
}
