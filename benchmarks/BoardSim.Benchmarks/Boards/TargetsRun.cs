using System.Diagnostics;
using System.Globalization;
using BoardSim.Blocks;
using BoardSim.Blocks.Converters;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Scenarios;

namespace BoardSim.Benchmarks.Boards;

/// <summary>The verb <c>targets</c>: the runs whose length the project has promised something about, with a fixed amount of arithmetic beside them.</summary>
internal static class TargetsRun
{
    private const int Turns = 6;

    /// <summary>Measures and prints.</summary>
    /// <param name="boards">Folder with board files.</param>
    public static void Run(string boards)
    {
        var yardstick = new Yardstick();
        yardstick.Measure();
        Console.WriteLine("run | accuracy | processor time, least of six | ratio to the yardstick | points | iterations");
        foreach (var accuracy in new[] { 1e-3, 2e-3, 3e-3 })
        {
            Measure($"whole 120 V board, 5 s", BoardFile.Read(Path.Combine(boards, "proofer-120v.yaml")).Make(), 5, accuracy, leaps: false, yardstick);
        }

        foreach (var leaps in new[] { true, false })
        {
            var supply = new FlybackSupply { Detail = ConverterDetail.Switching, StartResistance = 30e3, VccCapacitance = 1e-6 };
            Measure($"closed-loop converter, 100 ms of switching, {(leaps ? "alike periods leapt over" : "each period computed")}", supply, 0.1, 1e-3, leaps, yardstick);
        }
    }

    private static void Measure(string name, Block block, double stop, double accuracy, bool leaps, Yardstick yardstick)
    {
        var (least, stick) = (TimeSpan.MaxValue, TimeSpan.MaxValue);
        SolverEvidence? evidence = null;
        for (var turn = 0; turn < Turns; turn++)
        {
            stick = Least(stick, () => yardstick.Measure());
            var board = block.Build();
            var system = new CircuitSystem(board.Circuit);
            var options = new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true, Leaps = leaps, Resolution = stop / 20_000 };
            least = Least(least, () => evidence = Transient.Run(system, options, [Probe.Voltage(board.TestPoints[0].Node)]).Evidence);
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name} | {accuracy:g1} | {least.TotalSeconds:f2} s | {least / stick:f0} | {evidence!.Points} | {evidence.NewtonIterations}"));
    }

    private static TimeSpan Least(TimeSpan before, Action action)
    {
        using var process = Process.GetCurrentProcess();
        var began = process.TotalProcessorTime;
        action();
        process.Refresh();
        var took = process.TotalProcessorTime - began;
        return took < before ? took : before;
    }
}
