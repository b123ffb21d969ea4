using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The bridge's logic and its delays.</summary>
public class BridgeDriverTests
{
    private static TransientResult Run(SourceWaveform a, SourceWaveform b, double stop, params Probe[] probes)
    {
        var circuit = Bench.Circuit(
            new VoltageSource("V1", "s", "0", 12), new Resistor("R1", "s", "rail", 1), new VoltageSource("VA", "a", "0", a), new VoltageSource("VB", "b", "0", b),
            new BridgeDriver("U1", "rail", "0", "a", "b") { OnDelay = 2e-6, OffDelay = 5e-6 },
            new BridgeSwitch("S1", "rail", "x", "U1", BridgeGate.AHigh) { OnResistance = 0.4 },
            new BridgeSwitch("S2", "x", "0", "U1", BridgeGate.ALow) { OnResistance = 0.4 },
            new BridgeSwitch("S3", "rail", "y", "U1", BridgeGate.BHigh),
            new BridgeSwitch("S4", "y", "0", "U1", BridgeGate.BLow),
            new Resistor("R2", "x", "y", 100));
        return Bench.Run(circuit, new TransientOptions { Stop = stop, Accuracy = 1e-4, UseInitialConditions = true }, probes);
    }

    // Both controls fall at the very same instant: neither may be missed (a device is told of one guard only).
    [Fact]
    public void Controls_that_fall_together_are_both_heard()
    {
        var both = new PulseWaveform { High = 5, Delay = 1e-3, Width = 1e-3, Rise = 1e-7, Fall = 1e-7 };
        var later = new PiecewiseLinearWaveform([0, 1e-3, 1.0001e-3, 2.0001e-3, 2.0002e-3], [0, 0, 5, 5, 0]);
        foreach (var b in new SourceWaveform[] { both, later })
        {
            var run = Run(both, b, 4e-3, Probe.Current("S2"), Probe.Current("S4"), Probe.Voltage("x", "y"));

            // Coasting: what is off leaks, and nothing drives the load either way.
            Assert.Equal(0, run.At(3.5e-3, 2), 1e-3);
        }
    }

    // A turns from the rail to the ground with the upper switch 3 us late: 12 V over 1 ohm, 0.4 ohm, and 0.4 ohm with the load
    // of 100.4 ohm beside it, for so long, and at no sample more than that (Ohm's law).
    [Fact]
    public void Overlap_takes_what_the_resistances_let_through_and_no_sample_says_more()
    {
        var a = new PulseWaveform { High = 5, Delay = 1e-4, Width = 1, Rise = 1e-9, Fall = 1e-9 };
        var b = new PulseWaveform { High = 5, Delay = 2e-4, Width = 1, Rise = 1e-9, Fall = 1e-9 };
        var run = Run(a, b, 3e-4, Probe.Current("S2"));
        var (t, i) = (run.Times, run.Values(0));
        const double share = 100.4 / 100.8;
        Bench.Near(12 / (1.4 + 0.4 * share) * share, i.Max(), 1e-3);
        var above = Enumerable.Range(0, t.Length).Where(k => i[k] > 3).Select(k => t[k]).ToArray();
        Assert.Equal(3e-6, above[^1] - above[0], 1e-9);
    }

    // A control that the driver's own switch pulls down has no rest: up after the delay until off, down after the one until on, and so on, from the start (by the definition of both).
    [Fact]
    public void Output_that_drives_its_own_control_goes_to_and_fro_by_the_delays()
    {
        var circuit = Bench.Circuit(
            new VoltageSource("V1", "rail", "0", 12), new VoltageSource("VA", "a", "0", 0), new Resistor("R1", "rail", "y", 1e3),
            new BridgeDriver("U1", "rail", "0", "a", "y") { OnDelay = 2e-6, OffDelay = 5e-6 },
            new BridgeSwitch("S2", "y", "0", "U1", BridgeGate.ALow));
        var run = Bench.Run(circuit, new TransientOptions { Stop = 100e-6, UseInitialConditions = true });
        var falls = run.Events.Where(e => e.State == "coast").Select(e => e.Time).ToArray();
        for (var k = 4; k < falls.Length; k++)
        {
            // Told, and done after the delay: two events of the same name in a period.
            Assert.Equal(7e-6, falls[k] - falls[k - 2], 1e-9);
        }

        Assert.InRange(falls.Length, 26, 30);
        Assert.Throws<SolverException>(() => OperatingPoint.Solve(new CircuitSystem(circuit)));
    }
}
