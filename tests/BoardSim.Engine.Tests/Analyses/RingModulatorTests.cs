using BoardSim.Engine.Analyses;
using BoardSim.Engine.Tests.Analyses.TestSet;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>The ring modulator of the test set (see <see cref="RingModulator"/>) against its reference solution.</summary>
public sealed class RingModulatorTests
{
    // Reference solution at t = 1 ms, voltages 1 to 7. At everyday accuracy the ringing itself is lost, the signals at the outer
    // windings are not.
    [Theory]
    [InlineData(1e-3, 2, 1e-3)]
    [InlineData(1e-4, 7, 1e-3)]
    public void Ring_modulator(double accuracy, int signals, double tolerance)
    {
        var result = Run(
            RingModulator.Make(),
            new TransientOptions { Stop = RingModulator.Stop, Accuracy = accuracy, UseInitialConditions = true, Resolution = 1e-6 },
            [.. RingModulator.Published.Select((_, k) => Probe.Voltage($"{k + 1}"))]);
        for (var k = 0; k < signals; k++)
        {
            Assert.True(Math.Abs(RingModulator.Published[k] - result.Values(k)[^1]) <= tolerance, $"V({k + 1}): {result.Values(k)[^1]:g8}, published {RingModulator.Published[k]:g8}: {(result.Values(k)[^1] - RingModulator.Published[k]) / accuracy:g3} x accuracy; {result.Evidence}");
        }
    }
}
