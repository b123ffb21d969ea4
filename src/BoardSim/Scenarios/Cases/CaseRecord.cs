using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;

namespace BoardSim.Scenarios.Cases;

/// <summary>What is kept of one computed case of a sweep or tolerance run.</summary>
/// <param name="Number">Number of the case in the scenario, from 0.</param>
/// <param name="Values">The recorded metrics and readings in their order, NaN where there is none; empty when the case failed.</param>
/// <param name="Evidence">What the solver did; null when the case failed.</param>
/// <param name="Failure">Why the case could not be computed; null when it could.</param>
internal sealed record CaseRecord(int Number, IReadOnlyList<double> Values, SolverEvidence? Evidence, string? Failure)
{
    /// <summary>How the case's periodic state was found; null when it does not start from one.</summary>
    public PeriodicEvidence? Periodic { get; init; }

    /// <summary>The value of a recorded number; NaN when the case failed.</summary>
    public double Value(int index) => Failure is null ? Values[index] : double.NaN;
}
