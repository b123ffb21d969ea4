using BenchmarkDotNet.Attributes;
using BoardSim.Scenarios;

namespace BoardSim.Benchmarks;

/// <summary>One scenario of each block from the read file to the checked expectations, on one thread, without figures.</summary>
public class ScenarioBenchmarks
{
    private readonly Yardstick yardstick = new();
    private Scenario scenario = null!;

    /// <summary>Names of the scenario files, one of each block.</summary>
    [Params("bulk-capacitor-dried-out", "output-ripple-against-esr", "sensor-open-shorted-damp", "free-wheel-diode-open")]
    public string File { get; set; } = "";

    /// <summary>Reads the scenario.</summary>
    [GlobalSetup]
    public void Read()
    {
        using var stream = typeof(ScenarioBenchmarks).Assembly.GetManifestResourceStream(File + ".yaml")
            ?? throw new InvalidOperationException($"There is no scenario named {File}.");
        using var reader = new StreamReader(stream);
        scenario = ScenarioFile.Parse(reader.ReadToEnd(), File + ".yaml");
    }

    /// <summary>The baseline.</summary>
    [Benchmark(Baseline = true, Description = "Yardstick")]
    public double Baseline() => yardstick.Measure();

    /// <summary>All conditions, all sweep points, readings, metrics and expectations.</summary>
    [Benchmark(Description = "Scenario")]
    public ScenarioResult Run() => ScenarioRunner.Run(scenario, new RunOptions { MaxParallel = 1 });
}
