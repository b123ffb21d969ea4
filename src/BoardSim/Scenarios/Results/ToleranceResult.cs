using BoardSim.Engine.Analyses;
using BoardSim.Measurement;

namespace BoardSim.Scenarios;

/// <summary>What came out of a tolerance run.</summary>
public sealed record ToleranceResult
{
    /// <summary>Values that were varied, one entry for each condition under which the nominal value is another one.</summary>
    public required IReadOnlyList<ToleranceInput> Inputs { get; init; }

    /// <summary>Number of boards that were drawn at random.</summary>
    public required int Samples { get; init; }

    /// <summary>Number of corners that were computed.</summary>
    public required int Corners { get; init; }

    /// <summary>Seed of the random numbers.</summary>
    public required int Seed { get; init; }

    /// <summary>One series per condition and recorded metric or reading, conditions first.</summary>
    public required IReadOnlyList<ToleranceSeries> Series { get; init; }

    /// <summary>What the solver did over all cases: counts added up, residuals the worst of all.</summary>
    public required SolverEvidence Evidence { get; init; }

    /// <summary>How many cases there were, and those that could not be computed.</summary>
    public required CaseCount Cases { get; init; }

    /// <summary>The series of a condition and metric, or null.</summary>
    /// <param name="condition">Name of the condition.</param>
    /// <param name="metric">Name of the metric or reading.</param>
    public ToleranceSeries? Find(string condition, string metric) =>
        Series.FirstOrDefault(s => s.Condition == condition && s.Name == metric);
}

/// <summary>A value that was varied: what it was in each case.</summary>
/// <param name="Key">Key of the value.</param>
/// <param name="Conditions">Names of the conditions that have this nominal value.</param>
/// <param name="Unit">Symbol of the unit.</param>
/// <param name="Nominal">Nominal value as the number before the unit's symbol.</param>
/// <param name="Tolerance">The tolerance as the file says it, and how values scatter within.</param>
/// <param name="Values">One value per case, samples first, then corners, as numbers before the unit's symbol.</param>
public sealed record ToleranceInput(string Key, IReadOnlyList<string> Conditions, string Unit, double Nominal, string Tolerance, IReadOnlyList<double> Values);

/// <summary>One metric or reading under one condition over the drawn boards and the corners.</summary>
public sealed record ToleranceSeries
{
    /// <summary>Name of the condition.</summary>
    public required string Condition { get; init; }

    /// <summary>Name of the metric or reading.</summary>
    public required string Name { get; init; }

    /// <summary>What figures call it.</summary>
    public required string Label { get; init; }

    /// <summary>Unit of the values; empty for a ratio.</summary>
    public required string Unit { get; init; }

    /// <summary>One value per drawn board, as numbers before the unit's symbol; NaN where there is none.</summary>
    public required IReadOnlyList<double> Values { get; init; }

    /// <summary>One value per corner, as numbers before the unit's symbol; NaN where there is none.</summary>
    public required IReadOnlyList<double> CornerValues { get; init; }

    /// <summary>Statistics of the drawn boards.</summary>
    public SampleStatistics Statistics() => new(Values);

    /// <summary>Statistics of the corners; of use are their extremes.</summary>
    public SampleStatistics CornerStatistics() => new(CornerValues);
}

/// <summary>How many cases a sweep or tolerance run had.</summary>
/// <param name="Total">Cases in all.</param>
/// <param name="Failures">Those that could not be computed, in their order.</param>
public sealed record CaseCount(int Total, IReadOnlyList<CaseFailure> Failures);

/// <summary>A case that could not be computed.</summary>
/// <param name="Number">Number of the case, from 0.</param>
/// <param name="Case">Name of the case, such as <c>aged at 0.8 ohm</c> or <c>hot, board 17</c>.</param>
/// <param name="Message">What went wrong.</param>
public sealed record CaseFailure(int Number, string Case, string Message);
