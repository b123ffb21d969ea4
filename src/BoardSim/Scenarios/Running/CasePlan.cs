using BoardSim.Engine.Analyses;
using BoardSim.Scenarios.Cases;

namespace BoardSim.Scenarios.Running;

/// <summary>Many computations that are alike: their number, each of them by its number, and what is recorded of it. A job is made when its turn
/// comes, so that a plan of any length takes no room.</summary>
internal abstract class CasePlan(Scenario scenario, IReadOnlyList<string> record)
{
    /// <summary>Number of cases.</summary>
    public abstract int Count { get; }

    /// <summary>Names of the metrics and readings that are kept of each case.</summary>
    public IReadOnlyList<string> Record => record;

    protected Scenario Scenario => scenario;

    /// <summary>Names of the observations that the recorded numbers are taken from.</summary>
    protected IReadOnlySet<string> Needed { get; } = record
        .SelectMany(name => scenario.Metrics.FirstOrDefault(m => m.Name == name) is { } metric ? [metric.Of, metric.And ?? metric.Of] : new[] { name })
        .ToHashSet(StringComparer.Ordinal);

    /// <summary>The case of that number, from 0.</summary>
    public abstract ConditionJob Job(int number);

    /// <summary>Label and unit of a recorded number, from the condition's own computation.</summary>
    protected static (string Label, string Unit) Heading(IReadOnlyList<ConditionResult> conditions, string condition, string name)
    {
        var result = conditions.First(c => c.Name == condition);
        return result.Metrics.FirstOrDefault(m => m.Name == name) is { } metric
            ? (metric.Label, metric.Unit)
            : result.Readings.Where(r => r.Name == name).Select(r => (r.Label, r.Unit)).First();
    }

    /// <summary>Counts of all cases, summed in their order so that they round alike in every run.</summary>
    protected static SolverEvidence Total(IEnumerable<CaseRecord> records) =>
        SolverEvidence.Total([.. records.Select(r => r.Evidence).OfType<SolverEvidence>()]);

    protected CaseCount Cases(IReadOnlyList<CaseRecord> records) =>
        new(records.Count, [.. records.Select((r, k) => (Record: r, Number: k)).Where(r => r.Record.Failure is not null)
            .Select(r => new CaseFailure(r.Number, Job(r.Number).Name, r.Record.Failure!))]);
}
