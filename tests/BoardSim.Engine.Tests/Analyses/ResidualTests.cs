using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>What the evidence says is left over of Kirchhoff's current law.</summary>
public sealed class ResidualTests
{
    // 10 mF whose 1 V lies 1 kV above ground decay through 2 kohm, exp(-t / 20 s), at half a milliampere. Its charge of 10 mC is the difference of two terms of 10 C, whose last place (double precision: 2^-52 of a value at most) is a milliampere over a picosecond, and so long are
    // the steps after a clipped pulse beside it with an edge of a picosecond (its 10 mA are the largest current). That is rounding at a kilovolt and was none at ground: no current is left over.
    [Theory]
    [InlineData(0)]
    [InlineData(1e3)]
    public void Rounding_of_a_capacitor_far_from_zero_is_no_current_left_over(double level)
    {
        const double accuracy = 1e-3, edge = 1e-12;
        var circuit = Circuit(
            new VoltageSource("v_pulse", "in", "0", new PulseWaveform { High = 10, Delay = 0.1, Rise = edge, Fall = edge, Width = 0.5 }),
            new Resistor("r", "in", "out", 1e3),
            new Capacitor("c", "out", "0", 1e-6) { InitialVoltage = 0 },
            new Diode("d", "out", "0", new DiodeModel { SaturationCurrent = 1e-15 }),
            new VoltageSource("v_level", "high", "0", level),
            new Resistor("r_a", "high", "a", 1e3),
            new Resistor("r_b", "b", "high", 1e3),
            new Capacitor("far", "a", "b", 10e-3) { InitialVoltage = 1 });
        var run = Run(circuit, new TransientOptions { Stop = 1, Accuracy = accuracy, UseInitialConditions = true }, Probe.Voltage("b"));
        Assert.Equal(level - 0.5 * Math.Exp(-1 / 20.0), run.Values(0)[^1], accuracy);
        Assert.InRange(run.Evidence.WorstKclResidual, 0, accuracy * 10e-3);
    }
}
