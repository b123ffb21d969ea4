using System.Globalization;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Benchmarks.Exactness;

/// <summary>
/// Instants of the first event of circuits for which a closed form tells it (any text on circuit theory). What drives the event is either a
/// source, and then nothing but the search can be wrong, or a state of the circuit, and then the solution's own error comes on top: it
/// is told apart by what the solution itself says at the instant.
/// </summary>
internal static class EventInstants
{
    private static readonly SwitchModel Threshold = new() { Threshold = 2.5, Hysteresis = 0.5, OnResistance = 1, OffResistance = 1e6 };

    private static readonly Case[] Cases =
    [
        // 3 V on a ramp of 5 V in 1 ms that begins at 1 ms.
        new("switch on a ramp", 5e-3, 1.6e-3, 3, 5e3, Probe.Voltage("c"),
            () => Switched(new VoltageSource("VC", "c", "0", new PulseWaveform { High = 5, Delay = 1e-3, Rise = 1e-3, Fall = 1e-3, Width = 1 }))),

        // 3 V on a sine of 5 V and 1 kHz.
        new("switch on a sine", 5e-3, Math.Asin(0.6) / (2 * Math.PI * 1e3), 3, 5 * 2 * Math.PI * 1e3 * 0.8, Probe.Voltage("c"),
            () => Switched(new VoltageSource("VC", "c", "0", new SineWaveform { Amplitude = 5, Frequency = 1e3 }))),

        // A capacitor charged through 1 kohm towards 10 V passes 3 V: R C ln(10 / 7).
        new("switch on a charging capacitor", 5e-3, 1e-3 * Math.Log(10.0 / 7), 3, 7e3, Probe.Voltage("c"),
            () => Switched(
                new VoltageSource("VC", "s", "0", 10), new Resistor("RC", "s", "c", 1e3), new Capacitor("CC", "c", "0", 1e-6) { InitialVoltage = 0 })),

        // A coil of 160 ohm and 0.4 H on 12 V passes 45 mA: L / R ln(1 / (1 - I R / V)).
        new("relay pulling in", 20e-3, 0.4 / 160 * Math.Log(1 / (1 - 0.045 * 160 / 12)), 0.045, (12 - 0.045 * 160) / 0.4, Probe.Current("K1"),
            () => Build(
                new VoltageSource("VR", "r", "0", 12),
                new RelayCoil("K1", "r", "0", 160, 0.4, 0.6, 0.045, 0.01) { Temperature = 293.15, InitialCurrent = 0 })),
    ];

    /// <summary>Measures and prints a table.</summary>
    /// <param name="accuracies">Accuracies asked.</param>
    public static void Print(double[] accuracies)
    {
        Console.WriteLine("| event | asked | instant off the closed form, part of the run | off the solution's own crossing, part of the run |");
        Console.WriteLine("|---|---:|---:|---:|");
        foreach (var it in Cases)
        {
            foreach (var accuracy in accuracies)
            {
                var run = Transient.Run(
                    new CircuitSystem(it.Make()), new TransientOptions { Stop = it.Stop, Accuracy = accuracy, UseInitialConditions = true }, [it.Cause]);
                var instant = run.Events[0].Time;
                var cause = run.Values(0)[Array.IndexOf(run.Times, instant)];
                Console.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {it.Name} | {accuracy:0e+0} | {(instant - it.Instant) / it.Stop:0.0e+0} | {(cause - it.Level) / it.Slope / it.Stop:0.0e+0} |"));
            }
        }
    }

    private static Circuit Switched(params Device[] control) =>
        Build([.. control, new VoltageSource("VS", "s1", "0", 10), new Resistor("RS", "s1", "a", 1e3), new VoltageSwitch("S1", "a", "0", "c", "0", Threshold)]);

    private static Circuit Build(params Device[] devices)
    {
        var circuit = new Circuit();
        foreach (var device in devices)
        {
            circuit.Add(device);
        }

        return circuit;
    }

    private sealed record Case(string Name, double Stop, double Instant, double Level, double Slope, Probe Cause, Func<Circuit> Make);
}
