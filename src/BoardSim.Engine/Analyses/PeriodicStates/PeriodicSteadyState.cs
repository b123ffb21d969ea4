using System.Diagnostics;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// The periodic steady state of a circuit: the state that repeats after one period is searched for by shooting, and its
/// periods are then recorded like any other run. Where the search fails, the circuit settles by itself, and the evidence says why.
/// </summary>
public static class PeriodicSteadyState
{
    /// <summary>Searches and records.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <param name="probes">Signals to record.</param>
    /// <exception cref="CircuitException">The sources have no common period, the period does not fit them, or the structure is unsound.</exception>
    /// <exception cref="SolverException">The solver gave up in an ordinary run.</exception>
    public static PeriodicResult Run(CircuitSystem system, PeriodicOptions options, IReadOnlyList<Probe> probes)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(probes);
        options.Validate();
        var period = PeriodOf(system, options);
        var watch = Stopwatch.StartNew();
        var lead = options.Lead + (int)Math.Ceiling(CommonPeriod.StartOf(system) / period * (1 - 1e-12));
        using var map = new PeriodMap(system, options, probes, period, lead);
        var search = new PeriodicSearch(system, map, options.Accuracy, options.MostSearchPeriods);
        var found = search.Find();
        var evidence = new PeriodicEvidence
        {
            Outcome = PeriodicOutcome.Found,
            Period = period,
            LeadPeriods = lead,
            SearchPeriods = map.Count,
            SlowestTimeConstant = search.SlowestPeriods * period,
        };
        if (map.Status != RunStatus.Completed)
        {
            var nothing = new TransientResult(probes, new SampleStore(probes.Count + 1), map.Evidence, [], map.Status);
            return new PeriodicResult(nothing, evidence with { Outcome = PeriodicOutcome.Interrupted });
        }

        var rest = options with { WallClockLimit = options.WallClockLimit - watch.Elapsed };
        if (found is not null && search.Recorded is { } last && options.Periods == 1)
        {
            return new PeriodicResult(With(last, last.Evidence with { Start = "periodic" }), evidence with { Residual = search.Residual });
        }

        if (found is not null)
        {
            var record = PeriodRecord.Run(system, rest, probes, found, map, out var end);
            var scale = new BoundaryScale(system);
            scale.Take(found, map.Peak);
            return new PeriodicResult(
                WithSearch(record, map.Evidence, "periodic"),
                evidence with { RecordPeriods = options.Periods, Residual = end is null ? double.NaN : scale.Largest(end.Charge, found.Charge).Size });
        }

        var settling = new Settling(system, rest, probes, period);
        var settled = settling.Run(lead - options.Lead);
        return new PeriodicResult(WithSearch(settled, map.Evidence, "settled"), evidence with
        {
            Outcome = settling.Repeats ? PeriodicOutcome.Settled : PeriodicOutcome.NotPeriodic,
            SettlingPeriods = settling.Periods,
            Residual = settling.Residual,
            Reason = search.Reason + (settling.Repeats ? "" : $"; {settling.Worst} does not repeat after {settling.Periods} periods of settling either"),
        });
    }

    private static double PeriodOf(CircuitSystem system, PeriodicOptions options)
    {
        if (options.Period is not { } period)
        {
            return CommonPeriod.Of(system.Circuit, out var problem) ?? throw new CircuitException([$"There is no periodic steady state to search for: {problem} Give a period, or run from the start."]);
        }

        return CommonPeriod.Divides(system, period, out var part)
            ? period
            : throw new CircuitException([$"A period of {period:g6} s is no whole number of periods of {part}."]);
    }

    /// <summary>The record with the work of the search added. Balances are the record's own: at the jumps of a search energy comes and goes.</summary>
    private static TransientResult WithSearch(TransientResult record, SolverEvidence search, string start) => With(
        record,
        SolverEvidence.Total([search, record.Evidence]) with
        {
            PowerBalance = record.Evidence.PowerBalance,
            SourceEnergy = record.Evidence.SourceEnergy,
            WorstKclResidual = record.Evidence.WorstKclResidual,
            WorstHeatResidual = record.Evidence.WorstHeatResidual,
            Start = start,
        });

    private static TransientResult With(TransientResult record, SolverEvidence evidence) => new(
        record.Probes,
        Columns.Store([record.Times, .. Enumerable.Range(0, record.Probes.Count).Select(record.Values)]),
        evidence,
        record.Events,
        record.Status);
}
