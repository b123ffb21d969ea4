using System.Runtime.ExceptionServices;
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
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
    /// <exception cref="ScenarioRunException">A condition could not be computed; the message names it.</exception>
    /// <exception cref="OperationCanceledException">The run was cancelled.</exception>
    public static ScenarioResult Run(Scenario scenario, RunOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        options ??= new RunOptions();
        ArgumentOutOfRangeException.ThrowIfLessThan(options.MaxParallel, 1, nameof(options));

        var sweep = scenario.Sweep is { } spec ? new SweepPlan(scenario, spec) : null;
        var jobs = scenario.Conditions.Select(c => new ConditionJob(scenario, c, null, c.Name, false)).Concat(sweep?.Jobs ?? []).ToList();
        var outcomes = RunAll(scenario, jobs, options);

        var count = scenario.Conditions.Count;
        var conditions = outcomes.Take(count).Select(o => o.ToResult()).ToList();
        var first = outcomes[0];
        var swept = sweep?.Result([.. outcomes.Skip(count)]);
        return new ScenarioResult
        {
            Scenario = scenario,
            BlockTitle = first.Board.Title,
            Signals = first.Signals,
            Conditions = conditions,
            Sweep = swept,
            Expectations = [.. scenario.Expectations.Select(e => ExpectationCheck.Evaluate(e, conditions, swept))],
            Cautions = outcomes.Take(count).Select(o => Cautions.For(o.Board)).FirstOrDefault(c => c.Count > 0) ?? [],
        };
    }

    /// <summary>Runs all jobs; outcomes are in the order of the jobs, and so is the failure that is told.</summary>
    private static ConditionOutcome[] RunAll(Scenario scenario, List<ConditionJob> jobs, RunOptions options)
    {
        var outcomes = new ConditionOutcome[jobs.Count];
        var failures = new Exception?[jobs.Count];
        var gate = new Lock();
        var done = 0;
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
                    outcomes[i] = jobs[i].Run(options);
                }
                catch (Exception e) when (e is CircuitException or SolverException or BlockException or FaultException)
                {
                    failures[i] = new ScenarioRunException(scenario.Id, jobs[i].Name, e);
                    state.Break();
                }

                if (options.Progress is { } progress)
                {
                    lock (gate)
                    {
                        progress.Report(new RunProgress(++done, jobs.Count, jobs[i].Name));
                    }
                }
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
}
