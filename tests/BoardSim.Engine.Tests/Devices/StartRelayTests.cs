using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

public sealed class StartRelayTests
{
    // Closed form of the first-order lag: a direct current of twice the pull-in closes after tau ln(4 / 3); taken away, the pull falls from 4 to (7 / 10)^2 in tau ln(4 / 0.49).
    [Fact]
    public void Closes_and_opens_when_the_lagging_square_says_so()
    {
        var circuit = Circuit(
            new CurrentSource("i", "0", "a", new PulseWaveform { High = 20, Delay = 0, Rise = 1e-9, Fall = 1e-9, Width = 0.5 }),
            new StartRelay("k", "a", "0", "c", "0", 10, 7) { Sluggishness = 10e-3 },
            new VoltageSource("v", "s", "0", new SineWaveform { Amplitude = 10, Frequency = 50, PhaseDegrees = 90 }),
            new Resistor("r", "s", "c", 100));
        var run = Run(circuit, new TransientOptions { Stop = 1, Accuracy = 1e-6, UseInitialConditions = true }, Probe.Voltage("c"), Probe.State("k", "closed"));
        Assert.Equal(["closed", "parting", "open"], run.Events.Select(e => e.State));
        Near(10e-3 * Math.Log(4.0 / 3), run.Events[0].Time, 1e-3);
        Near(10e-3 * Math.Log(4 / 0.49), run.Events[1].Time - 0.5, 1e-3);

        // The contact's current, 10 V cos(100 pi t) over 100 ohm, has zeros at 515, 525, 535 ms: the arc lives until the first one after 521 ms.
        Assert.Equal(0.525, run.Events[2].Time, 1e-6);
        Assert.InRange(run.At(0.4), -0.01, 0.01);
        Near(10, run.Values(0)[^1], 1e-3);
    }

    // An alternating current closes it by its RMS value: 8 % below it stays open, 8 % above it closes (the pull's ripple is 1 / (2 w tau) = 13 %, so not nearer).
    [Theory]
    [InlineData(0.92, false)]
    [InlineData(1.08, true)]
    public void Goes_by_the_rms_value(double share, bool closes)
    {
        var relay = new StartRelay("k", "a", "0", "c", "0", 10, 7) { Sluggishness = 50e-3 };
        var circuit = Circuit(
            new CurrentSource("i", "0", "a", new SineWaveform { Amplitude = share * 10 * Math.Sqrt(2), Frequency = 60 }), relay, new Resistor("r", "c", "0", 100));
        Run(circuit, new TransientOptions { Stop = 1, UseInitialConditions = true }, Probe.State("k", "closed"));
        Assert.Equal(closes, relay.IsClosed);
    }
}
