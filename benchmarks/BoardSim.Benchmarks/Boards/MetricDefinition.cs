using System.Globalization;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Benchmarks.Boards;

/// <summary>One number that is taken from a circuit's waveforms: a line of <c>metrics.txt</c>, whose head defines the operations.</summary>
/// <param name="Circuit">Name of the circuit.</param>
/// <param name="Name">Name of the metric, as in the circuit's reference file.</param>
/// <param name="Operation">What is done.</param>
/// <param name="Signal">What it is done with: <c>v(a)</c>, <c>v(a,b)</c> or <c>i(part)</c>.</param>
/// <param name="Arguments">Levels and instants, in the order of the definition.</param>
/// <param name="IsMain">True for the metric at whose equal error times are compared.</param>
internal sealed record MetricDefinition(string Circuit, string Name, string Operation, string Signal, double[] Arguments, bool IsMain)
{
    private const int FirstArgument = 6;

    /// <summary>Reads all definitions of a file.</summary>
    /// <param name="path">Path of the file.</param>
    public static IReadOnlyList<MetricDefinition> ReadAll(string path) =>
    [
        .. File.ReadLines(path)
            .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(words => words is ["metric", ..])
            .Select(Parse),
    ];

    /// <summary>First instant in seconds that matters to the metric.</summary>
    public double Begin => Arguments[Operation == "period" ? 1 : 0];

    /// <summary>The signal as something that a run can record.</summary>
    public Probe ToProbe()
    {
        var names = Signal[2..^1].Split(',');
        return Signal[0] == 'i' ? Probe.Current(names[0]) : Probe.Voltage(names[0], names.Length > 1 ? names[1] : Engine.Circuits.Circuit.Ground);
    }

    /// <summary>Value of the metric; not a number when the waveform has none.</summary>
    /// <param name="line">Waveform of the signal.</param>
    public double Of(Polyline line) => Operation switch
    {
        "at" => line.At(Arguments[0]),
        "max" => line.Extremes(Arguments[0], Arguments[1]).High,
        "min" => line.Extremes(Arguments[0], Arguments[1]).Low,
        "pp" => line.Extremes(Arguments[0], Arguments[1]) is var (low, high) ? high - low : double.NaN,
        "mean" => line.Mean(Arguments[0], Arguments[1]),
        "rms" => line.RootMeanSquare(Arguments[0], Arguments[1]),
        "fall_to" => line.FallTo(Arguments[0], Arguments[1]),
        "period" => line.Period(Arguments[0], Arguments[1], Arguments[2]),
        _ => throw new InvalidOperationException($"Metric {Name} of {Circuit} has the operation {Operation}, which nobody knows."),
    };

    private static MetricDefinition Parse(string[] words)
    {
        var numbers = words[FirstArgument..].Where(w => w != "main").Select(w => double.Parse(w, CultureInfo.InvariantCulture));
        return new MetricDefinition(words[1], words[2], words[4], words[5], [.. numbers], words[^1] == "main");
    }
}
