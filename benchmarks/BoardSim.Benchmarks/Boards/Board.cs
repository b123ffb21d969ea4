using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using BoardSim.Engine.Numerics;

namespace BoardSim.Benchmarks.Boards;

/// <summary>A circuit of a folder with what is measured on it and what should come out.</summary>
internal sealed class Board
{
    private readonly TransientCard card;
    private readonly string[] signals;
    private readonly Probe[] probes;

    private Board(string folder, string name, IReadOnlyList<MetricDefinition> metrics)
    {
        Name = name;
        Path = System.IO.Path.Combine(folder, "circuits", name + ".cir");
        var netlist = NetlistReader.Read(File.ReadAllText(Path), Path);
        Circuit = netlist.Circuit;
        card = (TransientCard)netlist.Analyses[0];
        Metrics = metrics;
        signals = [.. metrics.Select(m => m.Signal).Distinct()];
        probes = [.. signals.Select(s => metrics.First(m => m.Signal == s).ToProbe())];
        var reference = System.IO.Path.Combine(folder, "reference", name + ".json");
        References = File.Exists(reference) ? Reference.ReadAll(reference) : new Dictionary<string, Reference>();
    }

    /// <summary>Folder of our own circuits, beside the program.</summary>
    public static string OwnFolder => System.IO.Path.Combine(AppContext.BaseDirectory, "boards");

    /// <summary>File with the definitions of all metrics.</summary>
    public static string DefinitionsFile => System.IO.Path.Combine(OwnFolder, "metrics.txt");

    /// <summary>Name of the netlist's file without its ending.</summary>
    public string Name { get; }

    /// <summary>Path of the netlist.</summary>
    public string Path { get; }

    /// <summary>The circuit.</summary>
    public Circuit Circuit { get; }

    /// <summary>Length of the run in seconds.</summary>
    public double Stop => card.Stop;

    /// <summary>True when the run starts from initial conditions.</summary>
    public bool StartsFromInitial => card.UseInitialConditions;

    /// <summary>What is measured.</summary>
    public IReadOnlyList<MetricDefinition> Metrics { get; }

    /// <summary>What should come out, by the metric's name.</summary>
    public IReadOnlyDictionary<string, Reference> References { get; init; }

    /// <summary>All circuits of a folder for which metrics are defined, in the order of these.</summary>
    /// <param name="folder">A folder with <c>circuits/NAME.cir</c> and <c>reference/NAME.json</c>.</param>
    public static IReadOnlyList<Board> ReadAll(string folder) =>
    [
        .. MetricDefinition.ReadAll(DefinitionsFile)
            .GroupBy(m => m.Circuit)
            .Where(g => File.Exists(System.IO.Path.Combine(folder, "circuits", g.Key + ".cir")))
            .Select(g => new Board(folder, g.Key, [.. g])),
    ];

    /// <summary>Runs the netlist's transient.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="accuracy">Relative accuracy asked.</param>
    /// <param name="method">Integration method, null for the default.</param>
    /// <param name="start">Instant from which on signals are recorded, in seconds.</param>
    /// <param name="leaps">True to leap over periods that are alike.</param>
    public TransientResult Run(CircuitSystem system, double accuracy, StageMethod? method = null, double start = 0, bool leaps = false) => Transient.Run(
        system,
        new TransientOptions { Stop = card.Stop, Start = start, UseInitialConditions = card.UseInitialConditions, Accuracy = accuracy, Method = method, Leaps = leaps },
        probes);

    /// <summary>The metrics at an accuracy, in their order, of a run that records no more than they need.</summary>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public double[] MeasureAlone(double accuracy) =>
        Measure(RunAlone(accuracy));

    /// <summary>A run that records no more than the metrics need: the whole of a long one at a tight accuracy is more than a record may hold.</summary>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public TransientResult RunAlone(double accuracy) =>
        Run(new CircuitSystem(Circuit), accuracy, start: Math.Min(0.9 * Stop, Metrics.Min(m => m.Begin)));

    /// <summary>The metrics of a run, in their order.</summary>
    /// <param name="result">The run.</param>
    /// <exception cref="InvalidOperationException">The run did not reach its end; what is beyond would be made up.</exception>
    public double[] Measure(TransientResult result)
    {
        if (result.Status != RunStatus.Completed)
        {
            throw new InvalidOperationException($"The run of {Name} ended at {result.Times[^1]:g4} s ({result.Status}); nothing can be measured behind that.");
        }

        var lines = signals.Select((_, k) => new Polyline(result.Times, result.Values(k))).ToList();
        return [.. Metrics.Select(m => m.Of(lines[Array.IndexOf(signals, m.Signal)]))];
    }

    /// <summary>Error of the main metric, relative to its value.</summary>
    /// <param name="values">Metrics in their order.</param>
    public double MainError(double[] values) => Errors(values).First(e => e.Metric.IsMain).Error;

    /// <summary>Largest relative error of all metrics.</summary>
    /// <param name="values">Metrics in their order.</param>
    public double WorstError(double[] values) => Errors(values).Max(e => e.Error);

    /// <summary>Error of each metric, relative to its value.</summary>
    /// <param name="values">Metrics in their order.</param>
    public IEnumerable<(MetricDefinition Metric, double Error)> Errors(double[] values) =>
        Metrics.Zip(values, (m, v) => (m, References[m.Name].ErrorOf(v)));
}
