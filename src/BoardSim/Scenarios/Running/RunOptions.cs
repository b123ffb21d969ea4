namespace BoardSim.Scenarios;

/// <summary>How a scenario is run. Nothing here changes what comes out.</summary>
public sealed record RunOptions
{
    /// <summary>Stops the run; an <see cref="OperationCanceledException"/> is then thrown.</summary>
    public CancellationToken Cancellation { get; init; }

    /// <summary>Is told after each computed condition and sweep point; null for nobody. Calls come from several threads, one at a time.</summary>
    public IProgress<RunProgress>? Progress { get; init; }

    /// <summary>Most computations at the same time, 1 or more; the number of processors unless set.</summary>
    public int MaxParallel { get; init; } = Environment.ProcessorCount;

    /// <summary>Keeps finished cases of sweep and tolerance run; cases that it has read are not computed again. Null to keep none.</summary>
    public CaseStore? Cases { get; init; }

    /// <summary>Longest time that one condition or sweep point may be computed; null for no limit.</summary>
    public TimeSpan? TimeLimit { get; init; }
}

/// <summary>How far a run is.</summary>
/// <param name="Done">Computations that are finished.</param>
/// <param name="Total">Computations in all.</param>
/// <param name="What">The one that was finished last, such as <c>aged at 0.8 ohm</c>.</param>
public sealed record RunProgress(int Done, int Total, string What);
