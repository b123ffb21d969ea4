using BoardSim.Benchmarks.Circuits;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using BoardSim.Engine.Numerics;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>A circuit whose solution is known, or is computed once far more accurately than any method is asked for.</summary>
internal sealed class Problem
{
    private const int Samples = 500;
    private const double TightAccuracy = 1e-7;

    private readonly Circuit circuit;
    private readonly TransientCard card;
    private readonly OutputVariable[] variables;
    private readonly double[][] reference;
    private readonly double[] peaks;
    private readonly bool endOnly;

    private Problem(string name, string title, double[]? published)
    {
        (Name, Title) = (name, title);
        var netlist = BenchmarkCircuits.Read(name);
        circuit = netlist.Circuit;
        card = (TransientCard)netlist.Analyses[0];
        variables = [.. netlist.Prints.SelectMany(p => p.Variables)];
        endOnly = published is not null;
        reference = published is null ? Sample(StageMethod.Esdirk4, TightAccuracy, out _) : [published];
        peaks = [.. variables.Select((_, p) => reference.Max(row => Math.Abs(row[p])))];
    }

    /// <summary>Name of the netlist.</summary>
    public string Name { get; }

    /// <summary>What it is and what it is compared with.</summary>
    public string Title { get; }

    /// <summary>All problems.</summary>
    public static IReadOnlyList<Problem> All() =>
    [
        new("resonance", "Damped resonance, 5 ms, against a run at 1e-7", null),

        // Test Set for IVP Solvers (Lioen and de Swart 1998), transistor amplifier, reference solution at t = 0.2 s.
        new(
            "amplifier",
            "Transistor amplifier, 0.2 s, against the published end values",
            [
                -0.5562145012262709e-2, 0.3006522471903042e1, 0.2849958788608128e1, 0.2926422536206241e1,
                0.2704617865010554e1, 0.2761837778393145e1, 0.4770927631616772e1, 0.1236995868091548e1,
            ]),
        new("rectifier", "Line rectifier, 50 ms, against a run at 1e-7", null),
        new("flyback", "Flyback converter, 8 periods, against a run at 1e-7", null),
    ];

    /// <summary>Runs one method at one accuracy.</summary>
    /// <param name="method">The method.</param>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public Measurement Measure(StageMethod method, double accuracy)
    {
        var rows = Sample(method, accuracy, out var evidence);
        var seconds = Timing.Shortest(() => Run(method, accuracy));
        return new Measurement(this, method, accuracy, evidence, seconds, Error(rows));
    }

    /// <summary>Root mean square over the instants, relative to the peak; of the signal that is worst. Published values are of one instant.</summary>
    private double Error(double[][] rows) => Enumerable.Range(0, variables.Length).Max(p =>
        Math.Sqrt(rows.Zip(reference).Average(pair => Math.Pow(pair.First[p] - pair.Second[p], 2))) / peaks[p]);

    private TransientRun Start(CircuitSystem system, StageMethod method, double accuracy) => new(
        system,
        new TransientOptions { Stop = card.Stop, UseInitialConditions = card.UseInitialConditions, Accuracy = accuracy, Method = method });

    private void Run(StageMethod method, double accuracy)
    {
        using var run = Start(new CircuitSystem(circuit.Clone()), method, accuracy);
        while (run.Advance())
        {
        }
    }

    private double[][] Sample(StageMethod method, double accuracy, out SolverEvidence evidence)
    {
        var system = new CircuitSystem(circuit.Clone());
        var sampler = new Sampler(system, variables);
        var rows = new List<double[]>();
        using var run = Start(system, method, accuracy);
        while (run.Advance())
        {
            while (!endOnly && rows.Count < Samples && Instant(rows.Count) <= run.Time)
            {
                rows.Add(sampler.At(run, Instant(rows.Count)));
            }
        }

        if (endOnly)
        {
            rows.Add(sampler.At(run, card.Stop));
        }

        evidence = run.Evidence;
        return [.. rows];

        double Instant(int k) => k == Samples - 1 ? card.Stop : card.Stop * (k + 1) / Samples;
    }
}
