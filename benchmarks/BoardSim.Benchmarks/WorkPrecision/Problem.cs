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
    private readonly double stop;
    private readonly bool fromInitial;
    private readonly OutputVariable[] variables;
    private readonly Lazy<double[][]> reference;
    private readonly bool endOnly;

    /// <summary>States a problem.</summary>
    /// <param name="name">Name for the table.</param>
    /// <param name="title">What it is and what it is compared with.</param>
    /// <param name="circuit">The circuit.</param>
    /// <param name="stop">End of the run in seconds.</param>
    /// <param name="fromInitial">True starts from initial conditions.</param>
    /// <param name="variables">Signals that are compared.</param>
    /// <param name="published">Their published end values; null compares the whole waveforms with a far more accurate run.</param>
    public Problem(string name, string title, Circuit circuit, double stop, bool fromInitial, OutputVariable[] variables, double[]? published = null)
    {
        (Name, Title, this.circuit, this.stop, this.fromInitial, this.variables) = (name, title, circuit, stop, fromInitial, variables);
        endOnly = published is not null;
        reference = new Lazy<double[][]>(() => published is null ? Sample(StageMethod.Esdirk4, TightAccuracy, out _) : [published]);
    }

    /// <summary>States a problem by a netlist whose first card is a transient and whose print cards name the signals.</summary>
    /// <param name="name">Name for the table.</param>
    /// <param name="title">What it is and what it is compared with.</param>
    /// <param name="netlist">The netlist.</param>
    /// <param name="published">End values that are published, or null.</param>
    public Problem(string name, string title, Netlist netlist, double[]? published = null)
        : this(
            name,
            title,
            netlist.Circuit,
            ((TransientCard)netlist.Analyses[0]).Stop,
            ((TransientCard)netlist.Analyses[0]).UseInitialConditions,
            [.. netlist.Prints.SelectMany(p => p.Variables)],
            published)
    {
    }

    /// <summary>Name for the table.</summary>
    public string Name { get; }

    /// <summary>What it is and what it is compared with.</summary>
    public string Title { get; }

    /// <summary>Runs one method at one accuracy.</summary>
    /// <param name="method">The method.</param>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public Measurement Measure(StageMethod method, double accuracy)
    {
        // The first run of a long ladder is also its only one: what it takes to be compared with the reference is nothing beside it.
        var begun = Timing.Now;
        var rows = Sample(method, accuracy, out var evidence);
        var first = Timing.Now - begun;
        var seconds = first > Timing.Enough ? first : Timing.Shortest(() => Run(method, accuracy));
        return new Measurement(this, method, accuracy, evidence, seconds, Error(rows));
    }

    /// <summary>Root mean square over the instants, relative to the peak; of the signal that is worst. Published values are of one instant.</summary>
    private double Error(double[][] rows) => Enumerable.Range(0, variables.Length).Max(p =>
        Math.Sqrt(rows.Zip(reference.Value).Average(pair => Math.Pow(pair.First[p] - pair.Second[p], 2))) / reference.Value.Max(row => Math.Abs(row[p])));

    private TransientRun Start(CircuitSystem system, StageMethod method, double accuracy) => new(
        system,
        new TransientOptions { Stop = stop, UseInitialConditions = fromInitial, Accuracy = accuracy, Method = method });

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
            rows.Add(sampler.At(run, stop));
        }

        evidence = run.Evidence;
        return [.. rows];

        double Instant(int k) => k == Samples - 1 ? stop : stop * (k + 1) / Samples;
    }
}
