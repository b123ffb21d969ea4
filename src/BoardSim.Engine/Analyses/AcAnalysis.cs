using System.Diagnostics;
using System.Numerics;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Small-signal analysis: the circuit linearised at its operating point, <c>(G + j omega C) X = -B</c> at each frequency.
/// </summary>
public static class AcAnalysis
{
    /// <summary>Runs the analysis.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="frequencies">Frequencies in hertz, positive.</param>
    /// <param name="probes">Voltages, currents and unknowns to record; the current of a part that has no branch of its own is that through its conductances,
    /// linearised at the operating point.</param>
    /// <param name="limits">What may end the analysis early; the usual ones when null.</param>
    /// <returns>The frequencies that were computed; all of them unless <see cref="AcResult.Status"/> says otherwise.</returns>
    /// <exception cref="ArgumentException">A probe is of a state that is no unknown (a count, a position with stops): small signals do not reach it.</exception>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="OperationCanceledException">Cancelled before the operating point was found.</exception>
    /// <exception cref="SolverException">No operating point (not within the time limit, say), or a singular system at some frequency.</exception>
    public static AcResult Run(CircuitSystem system, IReadOnlyList<double> frequencies, IReadOnlyList<Probe> probes, RunLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(frequencies);
        ArgumentNullException.ThrowIfNull(probes);
        limits ??= new RunLimits();
        var watch = Stopwatch.StartNew();
        var point = OperatingPoint.Solve(system, new OperatingPointOptions { Limits = limits });
        var (g, c) = (system.Loads.G, system.Loads.C);
        var excitation = new Complex[system.Size + 1];
        foreach (var source in system.Circuit.Devices.OfType<ISmallSignal>())
        {
            source.ExciteSmallSignal(excitation);
        }

        var lu = new SparseLu<Complex>(system.Pattern);
        var matrix = new Complex[g.Length];
        var x = new Complex[system.Size + 1];
        var bound = probes.Select(p => p.Bind(system)).ToArray();
        if (Array.FindIndex(bound, b => !b.IsOfUnknowns) is var stranger and >= 0)
        {
            throw new ArgumentException($"{probes[stranger].Label} is a state that the part keeps itself and no unknown of the equations, so it has no small signal; observe a voltage, a current or an unknown.", nameof(probes));
        }

        var most = (int)Math.Min(frequencies.Count, limits.MostSamples(2 * probes.Count));
        var results = probes.Select(_ => new List<Complex>()).ToArray();
        var (re, im, work) = (new double[x.Length], new double[x.Length], new double[x.Length]);
        var (status, done) = (RunStatus.Running, 0);
        for (; done < most && (status = limits.Check(watch)) == RunStatus.Running; done++)
        {
            var k = done;
            if (!(frequencies[k] > 0 && double.IsFinite(frequencies[k])))
            {
                throw new ArgumentOutOfRangeException(nameof(frequencies), frequencies[k], "A frequency must be positive and finite.");
            }

            var omega = 2 * Math.PI * frequencies[k];
            for (var s = 1; s < matrix.Length; s++)
            {
                matrix[s] = new Complex(g[s], omega * c[s]);
            }

            if (!lu.Refactor(matrix) && !lu.Factor(matrix))
            {
                throw new SolverException($"AC analysis at {frequencies[k]:g9} Hz: the equations are singular at {system.Describe(lu.SingularUnknown)}; look there for a resonance without loss, and give it some (1 mohm, say).");
            }

            for (var i = 1; i < x.Length; i++)
            {
                x[i] = -excitation[i];
            }

            lu.Solve(x);
            for (var i = 1; i < x.Length; i++)
            {
                (re[i], im[i]) = (x[i].Real, x[i].Imaginary);
            }

            for (var p = 0; p < bound.Length; p++)
            {
                results[p].Add(new Complex(bound[p].Derivative(point.X, re, work), bound[p].Derivative(point.X, im, work)));
            }
        }

        status = status != RunStatus.Running ? status : done < frequencies.Count ? RunStatus.RecordFull : RunStatus.Completed;
        var evidence = point.Evidence with
        {
            Points = done,
            Factorizations = point.Evidence.Factorizations + done,
            WallSeconds = watch.Elapsed.TotalSeconds,
        };
        return new AcResult(probes, [.. frequencies.Take(done)], [.. results.Select(r => r.ToArray())], evidence, status);
    }
}

/// <summary>Recorded phasors of a small-signal analysis.</summary>
public sealed class AcResult
{
    private readonly Complex[][] results;

    internal AcResult(IReadOnlyList<Probe> probes, double[] frequencies, Complex[][] results, SolverEvidence evidence, RunStatus status)
    {
        Probes = probes;
        Frequencies = frequencies;
        this.results = results;
        Evidence = evidence;
        Status = status;
    }

    /// <summary>What was recorded.</summary>
    public IReadOnlyList<Probe> Probes { get; }

    /// <summary>Whether the analysis reached its end, or what ended it.</summary>
    public RunStatus Status { get; }

    /// <summary>Frequencies in hertz, as far as the analysis came.</summary>
    public double[] Frequencies { get; }

    /// <summary>How the solver fared.</summary>
    public SolverEvidence Evidence { get; }

    /// <summary>Phasors of one probe, as many as <see cref="Frequencies"/>.</summary>
    /// <param name="probe">Number of the probe, from 0.</param>
    public Complex[] Values(int probe) => results[probe];
}
