using System.Diagnostics;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Operating points along a list of values, each starting from the last (continuation), so that a sweep stays on one branch
/// of solutions and discrete states show their hysteresis.
/// </summary>
public static class DcSweep
{
    /// <summary>Runs a sweep.</summary>
    /// <param name="system">The compiled circuit; discrete devices are reset before the first point only.</param>
    /// <param name="values">Values of the swept quantity, in the order in which they are visited.</param>
    /// <param name="apply">Sets the quantity on the circuit's devices.</param>
    /// <param name="probes">Signals to record.</param>
    /// <param name="options">Settings of each point; defaults when null.</param>
    /// <param name="limits">What may end the sweep early; the usual ones when null.</param>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <returns>The points that were computed; all of them unless <see cref="DcSweepResult.Status"/> says otherwise.</returns>
    /// <exception cref="SolverException">A point has no solution; the message tells at which value.</exception>
    public static DcSweepResult Run(
        CircuitSystem system,
        IReadOnlyList<double> values,
        Action<double> apply,
        IReadOnlyList<Probe> probes,
        OperatingPointOptions? options = null,
        RunLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(apply);
        ArgumentNullException.ThrowIfNull(probes);
        StructureCheck.ThrowIfUnsound(system.Circuit, forDirectCurrent: true);
        limits ??= new RunLimits();
        var watch = Stopwatch.StartNew();
        var counters = new SolverCounters();
        var point = new OperatingPoint(system, (options ?? new OperatingPointOptions()) with { Limits = limits }, counters, new NewtonSolver(system, counters));
        var bound = probes.Select(p => p.Bind(system)).ToArray();
        var most = (int)Math.Min(values.Count, limits.MostSamples(probes.Count));
        var results = probes.Select(_ => new List<double>()).ToArray();
        var (status, done) = (RunStatus.Running, 0);
        var (worstKcl, worstHeat, worstBalance) = (0.0, 0.0, 0.0);
        system.ResetDiscrete();
        system.Loads.IsStatic = true;
        try
        {
            for (var k = 0; k < most; k++)
            {
                apply(values[k]);
                system.Restamp();
                try
                {
                    point.Find(keepIterate: k > 0);
                }
                catch (SolverException problem)
                {
                    throw new SolverException($"DC sweep at value {values[k]:g9} (point {k + 1} of {values.Count}): {problem.Message}");
                }

                var solution = point.ToSolution(0);
                worstKcl = Math.Max(worstKcl, solution.Evidence.WorstKclResidual);
                worstHeat = Math.Max(worstHeat, solution.Evidence.WorstHeatResidual);
                worstBalance = Math.Max(worstBalance, solution.Evidence.PowerBalance);
                for (var p = 0; p < bound.Length; p++)
                {
                    results[p].Add(bound[p].Value(0, solution.X));
                }

                done++;
            }

            status = done < values.Count ? RunStatus.RecordFull : RunStatus.Completed;
        }
        catch (RunEndedException ended)
        {
            status = ended.Status;
        }
        finally
        {
            system.Loads.IsStatic = false;
        }

        var evidence = new SolverEvidence
        {
            Points = done,
            NewtonIterations = counters.Iterations,
            Factorizations = counters.Factorizations,
            WorstKclResidual = worstKcl,
            WorstHeatResidual = worstHeat,
            PowerBalance = worstBalance,
            Start = point.Means,
            WallSeconds = watch.Elapsed.TotalSeconds,
        };
        return new DcSweepResult(probes, [.. values.Take(done)], [.. results.Select(r => r.ToArray())], evidence, status);
    }
}

/// <summary>Recorded signals of a DC sweep.</summary>
public sealed class DcSweepResult
{
    private readonly double[][] results;

    internal DcSweepResult(IReadOnlyList<Probe> probes, double[] swept, double[][] results, SolverEvidence evidence, RunStatus status)
    {
        Probes = probes;
        Swept = swept;
        this.results = results;
        Evidence = evidence;
        Status = status;
    }

    /// <summary>What was recorded.</summary>
    public IReadOnlyList<Probe> Probes { get; }

    /// <summary>Whether the sweep reached its end, or what ended it.</summary>
    public RunStatus Status { get; }

    /// <summary>Values of the swept quantity, as far as the sweep came.</summary>
    public double[] Swept { get; }

    /// <summary>How the solver fared, over all points.</summary>
    public SolverEvidence Evidence { get; }

    /// <summary>Values of one probe, as many as <see cref="Swept"/>.</summary>
    /// <param name="probe">Number of the probe, from 0.</param>
    public double[] Values(int probe) => results[probe];
}
