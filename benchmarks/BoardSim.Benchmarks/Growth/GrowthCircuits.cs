using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Benchmarks.Growth;

/// <summary>Circuits of any length: the ladder, and one whose sections all hang on two common rails.</summary>
internal static class GrowthCircuits
{
    /// <summary>A pulse into a line of resistors and capacitors.</summary>
    /// <param name="sections">Number of sections.</param>
    public static Circuit Ladder(int sections)
    {
        var circuit = Start();
        for (var k = 1; k <= sections; k++)
        {
            circuit.Add(new Resistor($"R{k}", $"n{k - 1}", $"n{k}", 100));
            circuit.Add(new Capacitor($"C{k}", $"n{k}", "0", 1e-9));
        }

        circuit.Add(new Resistor("RLOAD", $"n{sections}", "0", 200e3));
        return circuit;
    }

    /// <summary>The same line, each node tied to a soft rail as well and loaded by a diode: rows of the matrix as long as the circuit.</summary>
    /// <param name="sections">Number of sections.</param>
    public static Circuit Rails(int sections)
    {
        var circuit = Start();
        circuit.Add(new VoltageSource("VRAIL", "supply", "0", 5));
        circuit.Add(new Resistor("RRAIL", "supply", "rail", 0.1));
        circuit.Add(new Capacitor("CRAIL", "rail", "0", 1e-6));
        for (var k = 1; k <= sections; k++)
        {
            circuit.Add(new Resistor($"R{k}", $"n{k - 1}", $"n{k}", 100));
            circuit.Add(new Resistor($"RP{k}", "rail", $"n{k}", 100e3));
            circuit.Add(new Capacitor($"C{k}", $"n{k}", "rail", 1e-9));
            circuit.Add(new Diode($"D{k}", $"n{k}", "0", new DiodeModel { SaturationCurrent = 1e-14 }));
        }

        return circuit;
    }

    /// <summary>The same line with an ammeter in each section, a source of 0 V: equations without a diagonal, for which a pivot has to be searched.</summary>
    /// <param name="sections">Number of sections.</param>
    public static Circuit Ammeters(int sections)
    {
        var circuit = Start();
        for (var k = 1; k <= sections; k++)
        {
            circuit.Add(new Resistor($"R{k}", $"n{k - 1}", $"m{k}", 100));
            circuit.Add(new VoltageSource($"VM{k}", $"m{k}", $"n{k}", 0));
            circuit.Add(new Capacitor($"C{k}", $"n{k}", "0", 1e-9));
        }

        circuit.Add(new Resistor("RLOAD", $"n{sections}", "0", 200e3));
        return circuit;
    }

    private static Circuit Start()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "n0", "0", new PulseWaveform { Low = 1, High = 5, Delay = 10e-6, Rise = 1e-6, Fall = 1e-6, Width = 200e-6, Period = 500e-6 }));
        return circuit;
    }
}
