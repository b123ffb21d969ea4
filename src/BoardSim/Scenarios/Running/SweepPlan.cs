using BoardSim.Quantities;
using BoardSim.Scenarios.Cases;

namespace BoardSim.Scenarios.Running;

/// <summary>The computations of a sweep and how they make up its result.</summary>
internal sealed class SweepPlan : CasePlan
{
    private readonly SweepSpec spec;
    private readonly Unit unit;

    /// <summary>Each swept condition with its first case, and how many it has: one where the swept fault is not there, so that nothing changes.</summary>
    private readonly List<(ConditionSpec Condition, int First, int Count)> ranges = [];

    public SweepPlan(Scenario scenario, SweepSpec spec)
        : base(scenario, spec.Record)
    {
        this.spec = spec;
        unit = Unit.Find(spec.Unit) ?? throw new ArgumentException($"The unit {spec.Unit} of the sweep is not known.", nameof(spec));
        foreach (var condition in scenario.Conditions.Where(c => spec.Conditions.Contains(c.Name)))
        {
            var changes = spec.Value is not null || condition.Faults.Any(f => f.Fault == spec.Fault);
            ranges.Add((condition, Count, changes ? spec.Points.Count : 1));
        }
    }

    public override int Count => ranges.Count == 0 ? 0 : ranges[^1].First + ranges[^1].Count;

    public override ConditionJob Job(int number)
    {
        var (condition, first, _) = ranges.Last(r => r.First <= number);
        var point = spec.Points[number - first];
        var text = Quantity.FormatShort(point, unit);
        var name = $"{condition.Name} at {text}";
        return spec.Value is { } key
            ? new ConditionJob(Scenario, condition, [new ValueSetting(key, point, text)], name, Needed)
            : new ConditionJob(Scenario, condition with { Faults = [.. condition.Faults.Select(f => f.Fault == spec.Fault ? f with { Severity = point, Text = text } : f)] }, [], name, Needed);
    }

    public SweepResult Result(IReadOnlyList<CaseRecord> records, IReadOnlyList<ConditionResult> conditions) => new()
    {
        Variable = spec.Value ?? spec.Fault!,
        Label = spec.Label,
        Unit = spec.Unit,
        Logarithmic = spec.Logarithmic,
        X = [.. spec.Points.Select(unit.Shown)],
        Series = [.. ranges.SelectMany(r => spec.Record.Select((name, at) =>
        {
            var (label, of) = Heading(conditions, r.Condition.Name, name);
            return new SweepSeries
            {
                Condition = r.Condition.Name,
                Name = name,
                Label = label,
                Unit = of,
                Values = [.. Enumerable.Range(0, spec.Points.Count).Select(k => records[r.First + Math.Min(k, r.Count - 1)].Value(at))],
            };
        }))],
        Evidence = Total(records),
        Cases = Cases(records),
        Periodic = [.. records.Where(r => r.Periodic is not null).Select(r => new PeriodicPoint(Job(r.Number).Name, r.Periodic!))],
    };
}
