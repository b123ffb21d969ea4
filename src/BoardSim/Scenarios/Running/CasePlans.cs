using BoardSim.Scenarios.Cases;

namespace BoardSim.Scenarios.Running;

/// <summary>All cases of a scenario in one row: the sweep's first, then those of the tolerance run.</summary>
internal sealed class CasePlans
{
    public CasePlans(Scenario scenario)
    {
        Sweep = scenario.Sweep is { } sweep ? new SweepPlan(scenario, sweep) : null;
        Tolerance = scenario.Tolerance is { } tolerance ? new TolerancePlan(scenario, tolerance) : null;
    }

    public SweepPlan? Sweep { get; }

    public TolerancePlan? Tolerance { get; }

    /// <summary>Number of cases.</summary>
    public int Count => SweepCount + (Tolerance?.Count ?? 0);

    private int SweepCount => Sweep?.Count ?? 0;

    /// <summary>The case of that number, from 0.</summary>
    public ConditionJob Job(int number) => PlanOf(number).Job(number < SweepCount ? number : number - SweepCount);

    /// <summary>Names of what is recorded of the case of that number.</summary>
    public IReadOnlyList<string> RecordOf(int number) => PlanOf(number).Record;

    /// <summary>The records of the sweep.</summary>
    public IReadOnlyList<CaseRecord> OfSweep(CaseRecord[] all) => all[..SweepCount];

    /// <summary>The records of the tolerance run.</summary>
    public IReadOnlyList<CaseRecord> OfTolerance(CaseRecord[] all) => all[SweepCount..];

    private CasePlan PlanOf(int number) => number < SweepCount ? Sweep! : Tolerance!;
}
