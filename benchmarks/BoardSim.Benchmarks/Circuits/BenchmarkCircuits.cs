using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Netlists;

namespace BoardSim.Benchmarks.Circuits;

/// <summary>The circuits that are timed: netlists that travel inside the assembly, and a ladder that is built in code.</summary>
internal static class BenchmarkCircuits
{
    /// <summary>A netlist of this folder.</summary>
    /// <param name="name">File name without its ending.</param>
    public static Netlist Read(string name)
    {
        using var stream = typeof(BenchmarkCircuits).Assembly.GetManifestResourceStream(name + ".cir")
            ?? throw new ArgumentException($"There is no circuit named {name}.", nameof(name));
        using var reader = new StreamReader(stream);
        return NetlistReader.Read(reader.ReadToEnd(), name);
    }

    /// <summary>A pulse into a long line of resistors and capacitors: how the engine copes with many unknowns.</summary>
    /// <param name="sections">Number of sections, 1 or more.</param>
    public static Circuit Ladder(int sections)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "n0", "0", new PulseWaveform { High = 5, Delay = 10e-6, Rise = 1e-6, Fall = 1e-6, Width = 150e-6 }));
        for (var k = 1; k <= sections; k++)
        {
            circuit.Add(new Resistor($"R{k}", $"n{k - 1}", $"n{k}", 120));
            circuit.Add(new Capacitor($"C{k}", $"n{k}", "0", 1e-9));
        }

        circuit.Add(new Resistor("RLOAD", $"n{sections}", "0", 100e3));
        return circuit;
    }
}
