using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The book of energy where flux and current go round in a loop, whose area is a loss inside the law of the flux.</summary>
public sealed class LoopFluxBookTests
{
    // Tellegen's theorem: what the source delivers is absorbed or stored, whatever the step. Booked by both ends of a step alone, shorted turns missed a twelfth of the square of a step's angle: 4e-3 of the energy at this accuracy.
    [Theory]
    [InlineData("ESDIRK3")]
    [InlineData("ESDIRK4")]
    public void Shorted_turns_balance_within_the_accuracy(string method)
    {
        const double accuracy = 2e-4;
        var circuit = Circuit(
            new VoltageSource("v", "a", "0", new SineWaveform { Amplitude = 300, Frequency = 50 }),
            new Solenoid("y", "a", "0", 60, 14, 20) { StuckAt = 0, ShortedShare = 0.1, RingTime = 0.5e-3 });
        var evidence = Run(circuit, new TransientOptions { Stop = 0.1, Accuracy = accuracy, Method = StageMethod.All.Single(m => m.Name == method), UseInitialConditions = true }).Evidence;
        Assert.InRange(evidence.SourceEnergy, 1, 1000);
        Assert.InRange(evidence.PowerBalance, 0, accuracy);
    }
}
