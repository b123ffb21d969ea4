namespace BoardSim.Scenarios;

/// <summary>What a figure draws.</summary>
public enum FigureKind
{
    /// <summary>Observations over time, all conditions on the same axes.</summary>
    Waveforms,

    /// <summary>Observations over frequency, all conditions on the same axes.</summary>
    Response,

    /// <summary>Metrics over the swept quantity, one line per condition.</summary>
    Sweep,

    /// <summary>Readings or metrics side by side, one bar per condition.</summary>
    Bars,

    /// <summary>How a recorded metric scatters over the boards of the tolerance run, one outline per condition.</summary>
    Histogram,
}

/// <summary>A figure as data.</summary>
public sealed record FigureSpec
{
    /// <summary>Name of the figure's files without extension, unique in the scenario.</summary>
    public required string Id { get; init; }

    /// <summary>What is drawn.</summary>
    public FigureKind Kind { get; init; }

    /// <summary>Title.</summary>
    public required string Title { get; init; }

    /// <summary>Names of observations (waveforms, response), of recorded metrics (sweep), of one recorded metric (histogram), or of metrics and readings (bars).</summary>
    public required IReadOnlyList<string> Show { get; init; }

    /// <summary>Names of the conditions that are drawn, in order.</summary>
    public required IReadOnlyList<string> Conditions { get; init; }

    /// <summary>Stretch of time that is drawn; of use for waveforms.</summary>
    public WindowSpec Window { get; init; } = WindowSpec.Whole;

    /// <summary>Remarks on the figure.</summary>
    public IReadOnlyList<CallOutSpec> CallOuts { get; init; } = [];
}

/// <summary>A remark on a figure: the value of a metric or reading under each drawn condition, or a text at an instant.</summary>
/// <param name="Metric">Name of the metric or reading; null for a text.</param>
/// <param name="Note">The text; null for a metric.</param>
/// <param name="At">Where the text stands on the horizontal axis, in seconds, or as the number before the swept unit's symbol; null when it stands at the edge.</param>
public sealed record CallOutSpec(string? Metric, string? Note, double? At);
