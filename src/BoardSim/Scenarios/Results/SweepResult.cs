using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;

namespace BoardSim.Scenarios;

/// <summary>What came out of a sweep.</summary>
public sealed record SweepResult
{
    /// <summary>Key of the swept value, or id of the fault whose severity was swept.</summary>
    public required string Variable { get; init; }

    /// <summary>What figures call it.</summary>
    public required string Label { get; init; }

    /// <summary>Unit of <see cref="X"/>.</summary>
    public required string Unit { get; init; }

    /// <summary>True when the horizontal axis is best drawn logarithmic.</summary>
    public required bool Logarithmic { get; init; }

    /// <summary>The points as numbers before the unit's symbol (a temperature in degC when the unit is degC).</summary>
    public required IReadOnlyList<double> X { get; init; }

    /// <summary>One series per condition and recorded metric or reading, conditions first.</summary>
    public required IReadOnlyList<SweepSeries> Series { get; init; }

    /// <summary>What the solver did over all points: counts added up, residuals the worst of all.</summary>
    public required SolverEvidence Evidence { get; init; }

    /// <summary>How many points were computed, over all conditions, and those that could not be; their values are NaN.</summary>
    public CaseCount Cases { get; init; } = new(0, []);

    /// <summary>How the periodic state of each computed point was found, by the point's name; empty when the runs start otherwise.</summary>
    public IReadOnlyList<PeriodicPoint> Periodic { get; init; } = [];

    /// <summary>The series of a condition and metric, or null.</summary>
    /// <param name="condition">Name of the condition.</param>
    /// <param name="metric">Name of the metric or reading.</param>
    public SweepSeries? Find(string condition, string metric) =>
        Series.FirstOrDefault(s => s.Condition == condition && s.Name == metric);
}

/// <summary>One metric or reading under one condition over the swept points.</summary>
public sealed record SweepSeries
{
    /// <summary>Name of the condition.</summary>
    public required string Condition { get; init; }

    /// <summary>Name of the metric or reading.</summary>
    public required string Name { get; init; }

    /// <summary>What figures call it.</summary>
    public required string Label { get; init; }

    /// <summary>Unit of the values; empty for a ratio.</summary>
    public required string Unit { get; init; }

    /// <summary>One value per point, as numbers before the unit's symbol; NaN where there is none.</summary>
    public required IReadOnlyList<double> Values { get; init; }
}

/// <summary>How the periodic state of a swept point was found.</summary>
/// <param name="Point">The point, such as <c>aged at 0.8 ohm</c>.</param>
/// <param name="Evidence">How it was found.</param>
public sealed record PeriodicPoint(string Point, PeriodicEvidence Evidence);
