using System.Runtime.ExceptionServices;
using BoardSim.Blocks;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
using BoardSim.Scenarios.Cases;

namespace BoardSim.Scenarios.Running;

/// <summary>
/// Computes cases on several threads. Each thread takes the next case that nobody has; a case knows its circuit and its random
/// numbers by its own number alone, and is reduced to what is recorded before the thread goes on, so that neither the number of threads nor the
/// number of cases shows in what comes out or in the memory that waveforms take.
/// </summary>
internal static class CaseRunner
{
    /// <summary>Runs cases.</summary>
    /// <param name="plans">The cases.</param>
    /// <param name="options">How to run them.</param>
    /// <param name="shard">The part of them that is run; null for all.</param>
    /// <param name="report">Is told the name of each case that is finished.</param>
    /// <returns>The records by the number of the case; null for those of other shards.</returns>
    public static CaseRecord[] Run(CasePlans plans, RunOptions options, Shard? shard, Action<string> report)
    {
        var records = new CaseRecord[plans.Count];
        var due = new List<int>();
        for (var k = 0; k < records.Length; k++)
        {
            if (options.Cases is { } store && store.TryGet(k, out var known))
            {
                var fits = known.Failure is not null || known.Values.Count == plans.RecordOf(k).Count;
                records[k] = fits ? known : throw new CaseStoreException($"'{store.Path}': case {k} has not the numbers that the scenario records; delete the file to compute its cases anew.");
            }
            else if (shard?.Has(k) != false)
            {
                due.Add(k);
            }
        }

        var next = -1;
        try
        {
            Parallel.For(0, Math.Min(options.MaxParallel, due.Count), new ParallelOptions { MaxDegreeOfParallelism = options.MaxParallel }, (_, state) =>
            {
                var systems = new Dictionary<string, CircuitSystem>(StringComparer.Ordinal);
                while (!state.ShouldExitCurrentIteration && Interlocked.Increment(ref next) is var at && at < due.Count)
                {
                    options.Cancellation.ThrowIfCancellationRequested();
                    var number = due[at];
                    var job = plans.Job(number);
                    records[number] = One(number, job, plans.RecordOf(number), options, systems);
                    options.Cases?.Add(records[number]);
                    report(job.Name);
                }
            });
        }
        catch (AggregateException several)
        {
            ExceptionDispatchInfo.Throw(several.InnerExceptions.FirstOrDefault(e => e is OperationCanceledException) ?? several.InnerExceptions[0]);
        }

        return records;
    }

    private static CaseRecord One(int number, ConditionJob job, IReadOnlyList<string> record, RunOptions options, Dictionary<string, CircuitSystem> systems)
    {
        try
        {
            var outcome = job.Run(options, circuit => Bind(systems, job.Condition.Name, circuit));
            return new CaseRecord(number, [.. record.Select(outcome.Number)], outcome.Evidence, null) { Periodic = outcome.Periodic };
        }
        catch (Exception e) when (e is CircuitException or SolverException or BlockException or FaultException)
        {
            // A system that a run broke off in the middle of is not used again.
            systems.Remove(job.Condition.Name);
            return new CaseRecord(number, [], null, e.Message);
        }
    }

    /// <summary>The thread's system for a condition, with the circuit of the next case; compiled where there is none of this structure.</summary>
    private static CircuitSystem Bind(Dictionary<string, CircuitSystem> systems, string condition, Circuit circuit)
    {
        if (!systems.TryGetValue(condition, out var system) || !system.TryRebind(circuit))
        {
            systems[condition] = system = new CircuitSystem(circuit);
        }

        return system;
    }
}
