namespace BoardSim.Engine.Netlists;

/// <summary>Settings of the analyses of a netlist.</summary>
public sealed record NetlistRunOptions
{
    /// <summary>Relative accuracy of a transient, 1e-8 to 0.1; 1e-3 by default.</summary>
    public double Accuracy { get; init; } = 1e-3;

    /// <summary>Cancels the analysis.</summary>
    public CancellationToken Cancellation { get; init; }

    /// <summary>Is told, now and then, which share of a transient is done, 0 to 1.</summary>
    public Action<double>? Progress { get; init; }
}
