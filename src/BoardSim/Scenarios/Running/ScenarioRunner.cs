using System.Runtime.ExceptionServices;
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
using BoardSim.Scenarios.Cases;
using BoardSim.Scenarios.Expectations;
using BoardSim.Scenarios.Running;

namespace BoardSim.Scenarios;

/// <summary>
/// Runs scenarios: builds the board of each condition, connects the instruments, computes, reads, derives, compares with what
/// is expected. Every computation has a circuit of its own, so that they run side by side and give the same whatever their order.
/// </summary>
public static class ScenarioRunner
{
    /// <summary>Runs a scenario.</summary>
    /// <param name="scenario">A scenario as <see cref="ScenarioFile"/> reads it.</param>
    /// <param name="options">How to run it; defaults when null.</param>
    /// <exception cref="ScenarioRunException">A condition could not be computed, or no case of a sweep or tolerance run could; the message names it.</exception>
    /// <exception cref="CaseStoreException">Finished cases could not be kept.</exception>
    /// <exception cref="OperationCanceledException">The run was cancelled.</exception>
    public static ScenarioResult Run(Scenario scenario, RunOptions? options = null)
    {
        options = Check(scenario, options);
        var plans = new CasePlans(scenario);
        var jobs = scenario.Conditions.Select(c => new ConditionJob(scenario, c, [], c.Name, null)).ToList();
        var report = new ProgressCount(options, jobs.Count + plans.Count, options.Cases?.Finished ?? 0);
        var outcomes = RunAll(scenario, jobs, options, report.Finished);
        var records = CaseRunner.Run(plans, options, null, report.Finished);

        var conditions = outcomes.Select(o => o.ToResult()).ToList();
        var sweep = plans.Sweep?.Result(plans.OfSweep(records), conditions);
        var tolerance = plans.Tolerance?.Result(plans.OfTolerance(records), conditions);
        ThrowIfAllFailed(scenario, sweep?.Cases);
        ThrowIfAllFailed(scenario, tolerance?.Cases);
        return new ScenarioResult
        {
            Scenario = scenario,
            BlockTitle = outcomes[0].Board.Title,
            Signals = outcomes[0].Signals,
            Conditions = conditions,
            Sweep = sweep,
            Tolerance = tolerance,
            Expectations = [.. scenario.Expectations.Select(e => ExpectationCheck.Evaluate(e, conditions, sweep, tolerance))],
            Cautions = outcomes.Select(o => Cautions.For(o.Board)).FirstOrDefault(c => c.Count > 0) ?? [],
        };
    }

    /// <summary>Computes one part of the cases of sweep and tolerance run and keeps them in <see cref="RunOptions.Cases"/>; nothing else is computed.</summary>
    /// <param name="scenario">A scenario with a sweep or a tolerance run.</param>
    /// <param name="shard">The part.</param>
    /// <param name="options">How to run it, with a place for the cases.</param>
    /// <returns>Number of cases of the part.</returns>
    /// <exception cref="ArgumentException">There is no place for the cases.</exception>
    /// <exception cref="CaseStoreException">Finished cases could not be kept.</exception>
    /// <exception cref="OperationCanceledException">The run was cancelled.</exception>
    public static int RunShard(Scenario scenario, Shard shard, RunOptions options)
    {
        ArgumentNullException.ThrowIfNull(shard);
        Check(scenario, options);
        var plans = new CasePlans(scenario);
        var count = Enumerable.Range(0, plans.Count).Count(shard.Has);
        var store = options.Cases ?? throw new ArgumentException("A shard needs a place for its cases.", nameof(options));
        CaseRunner.Run(plans, options, shard, new ProgressCount(options, count, store.Finished).Finished);
        store.Flush();
        return count;
    }

    private static RunOptions Check(Scenario scenario, RunOptions? options)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        options ??= new RunOptions();
        ArgumentOutOfRangeException.ThrowIfLessThan(options.MaxParallel, 1, nameof(options));
        return options;
    }

    /// <summary>One case that fails is a finding about that case; when all do, the scenario is at fault.</summary>
    private static void ThrowIfAllFailed(Scenario scenario, CaseCount? cases)
    {
        if (cases is { Failures.Count: > 0 } && cases.Failures.Count == cases.Total)
        {
            var first = cases.Failures[0];
            throw new ScenarioRunException(scenario.Id, first.Case, new SolverException($"{first.Message} None of the {cases.Total} cases could be computed."));
        }
    }

    /// <summary>Runs all jobs; outcomes are in the order of the jobs, and so is the failure that is told.</summary>
    private static ConditionOutcome[] RunAll(Scenario scenario, List<ConditionJob> jobs, RunOptions options, Action<string> report)
    {
        var outcomes = new ConditionOutcome[jobs.Count];
        var failures = new Exception?[jobs.Count];
        try
        {
            Parallel.For(0, jobs.Count, new ParallelOptions { MaxDegreeOfParallelism = options.MaxParallel, CancellationToken = options.Cancellation }, (i, state) =>
            {
                // A job behind one that failed would be thrown away; those before it decide which failure is told.
                if (state.ShouldExitCurrentIteration && state.LowestBreakIteration < i)
                {
                    return;
                }

                try
                {
                    outcomes[i] = jobs[i].Run(options, circuit => new CircuitSystem(circuit));
                }
                catch (Exception e) when (e is CircuitException or SolverException or BlockException or FaultException)
                {
                    failures[i] = new ScenarioRunException(scenario.Id, jobs[i].Name, e);
                    state.Break();
                }

                report(jobs[i].Name);
            });
        }
        catch (AggregateException several)
        {
            ExceptionDispatchInfo.Throw(several.InnerExceptions.FirstOrDefault(e => e is OperationCanceledException) ?? several.InnerExceptions[0]);
        }

        if (failures.FirstOrDefault(f => f is not null) is { } failure)
        {
            throw failure;
        }

        return outcomes;
    }

    /// <summary>Counts finished computations and tells whoever wants to know, one at a time.</summary>
    private sealed class ProgressCount(RunOptions options, int total, int done)
    {
        private readonly Lock gate = new();

        public void Finished(string what)
        {
            if (options.Progress is { } progress)
            {
                lock (gate)
                {
                    progress.Report(new RunProgress(++done, total, what));
                }
            }
        }
    }
}
