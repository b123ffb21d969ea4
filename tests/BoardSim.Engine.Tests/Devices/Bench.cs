using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Shortcuts for circuits of a few parts.</summary>
internal static class Bench
{
    public static Circuit Circuit(params Device[] parts)
    {
        var circuit = new Circuit();
        foreach (var part in parts)
        {
            circuit.Add(part);
        }

        return circuit;
    }

    public static Solution Solve(Circuit circuit) => OperatingPoint.Solve(new CircuitSystem(circuit), new OperatingPointOptions { Accuracy = 1e-12 });

    public static Solution Solve(params Device[] parts) => Solve(Circuit(parts));

    public static TransientResult Run(Circuit circuit, TransientOptions options, params Probe[] probes) =>
        Transient.Run(new CircuitSystem(circuit), options, probes);

    public static double[] Sweep(Circuit circuit, IReadOnlyList<double> values, Action<double> apply, Probe probe) =>
        DcSweep.Run(new CircuitSystem(circuit), values, apply, [probe]).Values(0);

    public static double At(this TransientResult result, double time, int probe = 0)
    {
        var (t, y) = (result.Times, result.Values(probe));
        var k = Array.FindIndex(t, s => s >= time);
        return k <= 0 ? y[0] : y[k - 1] + (y[k] - y[k - 1]) * (time - t[k - 1]) / (t[k] - t[k - 1]);
    }

    public static void Near(double expected, double actual, double relative) =>
        Assert.True(
            Math.Abs(actual - expected) <= relative * Math.Abs(expected),
            $"expected {expected:g9}, got {actual:g9} ({(actual - expected) / expected:p4} off, allowed {relative:p4})");
}
