using BoardSim.Engine.Analyses;

namespace BoardSim.Engine.Netlists;

/// <summary>Settings of the analyses of a netlist.</summary>
public sealed record NetlistRunOptions
{
    /// <summary>Relative accuracy of a transient, 1e-8 to 0.1; 1e-3 by default.</summary>
    public double Accuracy { get; init; } = 1e-3;

    /// <summary>True lets a transient leap over periods that are alike; see <see cref="Analyses.TransientOptions.Leaps"/>. False by default.</summary>
    public bool Leaps { get; init; }

    /// <summary>Longest wall-clock time of one analysis; null for no limit. What has been computed by then is given, marked as partial.</summary>
    public TimeSpan? TimeLimit { get; init; }

    /// <summary>Most values that a table may hold, rows times columns; 50 million unless set. What fits is given, marked as partial.</summary>
    public long MostValues { get; init; } = RunLimits.UsualMostValues;

    /// <summary>Cancels the analysis. What has been computed by then is given, marked as partial.</summary>
    public CancellationToken Cancellation { get; init; }

    /// <summary>Is told, now and then, which share of a transient is done, 0 to 1.</summary>
    public Action<double>? Progress { get; init; }
}
