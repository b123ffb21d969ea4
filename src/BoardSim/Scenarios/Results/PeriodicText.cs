using System.Globalization;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Quantities;

namespace BoardSim.Scenarios;

/// <summary>Puts into words how the periodic states of a scenario were found.</summary>
public static class PeriodicText
{
    /// <summary>One line per run of which something has to be said, or one that says that all were found; empty when no run starts periodic.</summary>
    /// <param name="result">What came out.</param>
    public static IReadOnlyList<string> Lines(ScenarioResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        List<PeriodicPoint> all =
        [
            .. result.Conditions.Where(c => c.Periodic is not null).Select(c => new PeriodicPoint(c.Label, c.Periodic!)),
            .. result.Sweep?.Periodic ?? [],
        ];
        var found = all.Where(p => p.Evidence.Outcome == PeriodicOutcome.Found).ToList();
        List<string> lines = found.Count == 0 ? [] : [Found(found, all.Count)];
        lines.AddRange(all.Where(p => p.Evidence.Outcome != PeriodicOutcome.Found).Select(p => $"{p.Point}: {Fallback(p.Evidence)}"));
        return lines;
    }

    private static string Found(List<PeriodicPoint> found, int all)
    {
        var most = found.Max(p => p.Evidence.LeadPeriods + p.Evidence.SearchPeriods);
        var residual = found.Max(p => p.Evidence.Residual);
        return string.Create(CultureInfo.InvariantCulture, $"Periodic steady state: found by search in {found.Count} of {all} runs, in at most {most} periods; it repeats within {residual:0.0E+0} of its peaks.");
    }

    private static string Fallback(PeriodicEvidence evidence) => evidence.Outcome == PeriodicOutcome.Settled
        ? $"periodic state not found by search ({evidence.Reason}); it settled by itself within {Quantity.FormatShort(evidence.SettlingPeriods * evidence.Period, Unit.Second)}."
        : $"NOT PERIODIC: {evidence.Reason}. What is shown is how the circuit runs on.";
}
