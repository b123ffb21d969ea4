using BoardSim.Engine.Analyses;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>The computations of a sweep and how they make up its result.</summary>
internal sealed class SweepPlan
{
    private readonly Scenario scenario;
    private readonly SweepSpec spec;
    private readonly Unit unit;

    /// <summary>First job of each condition, and how many it has: one where the swept fault is not there, so that nothing changes.</summary>
    private readonly List<(int First, int Count)> ranges = [];

    public SweepPlan(Scenario scenario, SweepSpec spec)
    {
        this.scenario = scenario;
        this.spec = spec;
        unit = Unit.Find(spec.Unit) ?? throw new ArgumentException($"The unit {spec.Unit} of the sweep is not known.", nameof(spec));
        var jobs = new List<ConditionJob>();
        foreach (var condition in Swept)
        {
            var changes = spec.Value is not null || condition.Faults.Any(f => f.Fault == spec.Fault);
            ranges.Add((jobs.Count, changes ? spec.Points.Count : 1));
            jobs.AddRange((changes ? spec.Points : [spec.Points[0]]).Select(point => Job(condition, point)));
        }

        Jobs = jobs;
    }

    public IReadOnlyList<ConditionJob> Jobs { get; }

    public SweepResult Result(IReadOnlyList<ConditionOutcome> outcomes) => new()
    {
        Variable = spec.Value ?? spec.Fault!,
        Label = spec.Label,
        Unit = spec.Unit,
        Logarithmic = spec.Logarithmic,
        X = [.. spec.Points.Select(unit.Shown)],
        Series = [.. Swept.SelectMany((c, i) => spec.Record.Select(name => Series(c.Name, name, i, outcomes)))],
        Periodic = [.. Jobs.Zip(outcomes, (j, o) => (j.Name, o.Periodic)).Where(p => p.Periodic is not null).Select(p => new PeriodicPoint(p.Name, p.Periodic!))],
        Evidence = SolverEvidence.Total([.. outcomes.Select(o => o.Evidence)]),
    };

    private IEnumerable<ConditionSpec> Swept => scenario.Conditions.Where(c => spec.Conditions.Contains(c.Name));

    private SweepSeries Series(string condition, string name, int index, IReadOnlyList<ConditionOutcome> outcomes)
    {
        var (first, count) = ranges[index];
        var numbers = Enumerable.Range(0, spec.Points.Count).Select(i => outcomes[first + Math.Min(i, count - 1)].Number(name)).ToList();
        return new SweepSeries
        {
            Condition = condition,
            Name = name,
            Label = numbers[0].Label,
            Unit = numbers[0].Unit,
            Values = [.. numbers.Select(n => n.Value)],
        };
    }

    private ConditionJob Job(ConditionSpec condition, double point)
    {
        var text = Quantity.FormatShort(point, unit);
        var name = $"{condition.Name} at {text}";
        return spec.Value is { } key
            ? new ConditionJob(scenario, condition, new ValueSetting(key, point, text), name, true)
            : new ConditionJob(scenario, condition with { Faults = [.. condition.Faults.Select(f => f.Fault == spec.Fault ? f with { Severity = point, Text = text } : f)] }, null, name, true);
    }
}
