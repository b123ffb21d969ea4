using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>
/// A bridge of diodes without junction capacitance. While it blocks, the part of the circuit on its far side hangs on some
/// picosiemens: volts there are decided by what rounding leaves of amperes, and a solver must not ask for more.
/// </summary>
public sealed class FloatingBridgeTests
{
    // Common practice, no source: the bulk capacitor charges to the crest less two diode drops, 325 V less about 2 V and the source resistance's share.
    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-4)]
    [InlineData(1e-5)]
    public void Line_that_floats_against_the_direct_current_side(double accuracy)
    {
        var model = new DiodeModel { SaturationCurrent = 1e-9, EmissionCoefficient = 1.8 };
        var circuit = Circuit(
            new VoltageSource("line", "l", "neutral", new SineWaveform { Amplitude = 325, Frequency = 50 }),
            new Resistor("rl", "l", "x", 2),
            new Diode("d1", "x", "o", model),
            new Diode("d2", "neutral", "o", model),
            new Diode("d3", "0", "x", model),
            new Diode("d4", "0", "neutral", model),
            new Capacitor("c", "o", "0", 220e-6) { SeriesResistance = 0.3 },
            new Resistor("load", "o", "0", 1600));
        var result = Run(circuit, new TransientOptions { Stop = 0.2, Accuracy = accuracy }, Probe.Voltage("o"), Probe.Current("rl"));
        Assert.Equal(RunStatus.Completed, result.Status);
        Assert.InRange(result.Values(0).Max(), 318, 323);
        Assert.InRange(result.Evidence.PowerBalance, 0, 1e-4);
    }
}
