using System.Numerics;
using BoardSim.Blocks.Lines;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Tests.Blocks;

/// <summary>Conducted noise of a line entry on its bench with line impedance networks: what the receivers see, and the same worked out from impedances in
/// series and in parallel, without nodes and matrices.</summary>
internal static class LineNoise
{
    /// <summary>Insertion loss in decibels, as computed by the engine.</summary>
    public static double Loss(NoiseKind kind, double hertz, string? fault = null)
    {
        var block = new LineEntry { Noise = kind };
        var board = block.Build();
        if (fault is not null)
        {
            board = block.Fault(fault).Apply(board);
        }

        var run = AcAnalysis.Run(new CircuitSystem(board.Circuit), [hertz], [Probe.Voltage("net-line-receiver"), Probe.Voltage("bare-net-line-receiver")]);
        return 20 * Math.Log10(run.Values(1)[0].Magnitude / run.Values(0)[0].Magnitude);
    }

    /// <summary>Impedance in ohms of one network.</summary>
    public static Complex Network(double hertz) => Parallel(S(hertz) * 50e-6, 50 + 1 / (S(hertz) * 10e-6));

    /// <summary>Insertion loss in decibels for noise in common mode: both conductors act as one, with twice the Y capacitance, half the network's impedance, and the
    /// choke's winding (coupled windings that carry the same current show L (1 + k) / 2 together).</summary>
    public static double CommonMode(double hertz)
    {
        var s = S(hertz);
        var y = (0.5 + 1 / (s * 2.2e-9)) / 2;
        var choke = (Parallel(s * 15e-3 * (1 + 0.99), 20e3) + 0.3) / 2;
        var network = Network(hertz) / 2;
        return Loss(50, y, choke, network);
    }

    /// <summary>The same in differential mode: conductors in series, half the Y capacitance across them, the windings' leakage 2 L (1 - k), the X capacitor
    /// across both networks in series, and a load of a kilohm.</summary>
    public static double DifferentialMode(double hertz)
    {
        var s = S(hertz);
        var y = Parallel(2 * (0.5 + 1 / (s * 2.2e-9)), Load);
        var choke = 2 * (Parallel(s * 15e-3 * (1 - 0.99), 20e3) + 0.3);
        var x = Parallel(Parallel(0.1 + 1 / (s * 220e-9), 1e6), 1 / (s * 500e-12));
        var networks = 2 * Network(hertz);

        // What is between the X capacitor and the network: fuse and terminal.
        var behind = Parallel(x, networks + 0.065);
        var (withFilter, without) = (Divide(50, y, choke, behind) * networks / (networks + 0.065), Parallel(networks, Load) / (50 + Parallel(networks, Load)));
        return 20 * Math.Log10((without / withFilter).Magnitude);
    }

    private static double Load => new LineEntry().LoadResistance;

    private static double Loss(double source, Complex shunt, Complex series, Complex end) =>
        20 * Math.Log10((end / (source + end) / Divide(source, shunt, series, end)).Magnitude);

    private static Complex Divide(double source, Complex shunt, Complex series, Complex end)
    {
        var across = Parallel(shunt, series + end);
        return across / (source + across) * (end / (series + end));
    }

    private static Complex S(double hertz) => new(0, 2 * Math.PI * hertz);

    private static Complex Parallel(Complex a, Complex b) => a * b / (a + b);
}
