using BoardSim.Blocks.Rectifiers;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Readme;

/// <summary>The example of README.md, between the two marks word for word.</summary>
internal static class ReadmeExample
{
    /// <summary>Runs the example.</summary>
    /// <param name="Console">Takes the place of the console, so that a test can read what is written.</param>
    public static void Run(TextWriter Console)
    {
        // begin
        var block = new BridgeBulk { LoadPower = 20 };
        var healthy = block.Build();
        var aged = healthy.With(block.Fault("bulk-esr-high"), 22).With(block.Fault("bulk-capacitance-lost"), 0.4);
        foreach (var board in new[] { healthy, aged })
        {
            var at = board.TestPoint("bulk");
            var run = Transient.Run(new CircuitSystem(board.Circuit), new() { Stop = 0.2, UseInitialConditions = true }, [Probe.Voltage(at.Node, at.ReferenceNode)]);
            var bulk = new Waveform("bulk", Unit.Volt, run.Times, run.Values(0)).Slice(0.15, 0.2);
            Console.WriteLine($"{bulk.Mean():0.0} V in the mean, {bulk.PeakToPeak():0.0} V of ripple against {at.ReferenceName}");
        }

        // end
    }
}
