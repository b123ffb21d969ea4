using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The arc of a contact that parts under current, by closed forms of the circuit around it. Constants of silver: 12 V, 0.4 A (Holm, Electric Contacts; from memory).</summary>
public class ArcingContactTests
{
    private const double Arc = 12;
    private const double Least = 0.4;

    // From rest: the coil is let go at a time, and the contact parts when its current has fallen to the drop-out current; the release travel is zero.
    private static Device[] Relay(double letGo) =>
    [
        new VoltageSource("vc", "k", "0", new PulseWaveform { High = 12, Delay = 1e-3, Rise = 1e-6, Fall = 1e-6, Width = letGo - 1e-3 }),
        new RelayCoil("k1", "k", "0", 300, 0.1, 0.1, 0.02, 0.01),
        new ArcingContact("s", "a", "b", "k1"),
    ];

    private static TransientResult Run(Device[] load, double letGo, double stop, double accuracy = 1e-5)
    {
        var circuit = new Circuit();
        foreach (var device in Relay(letGo).Concat(load))
        {
            circuit.Add(device);
        }

        return Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true }, [Probe.Current("s"), Probe.Voltage("a", "b"), Probe.State("s", "arcing")]);
    }

    private static double At(TransientResult run, string state, int which = 0) => run.Events.Where(e => e.Part == "s" && e.State == state).ElementAt(which).Time;

    // L di/dt + R i + 12 V = V: i falls from V/R towards (V - 12 V)/R and is at 0.4 A after L/R ln((V/R - e)/(0.4 - e)), e the end value.
    [Theory]
    [InlineData(5, 5, 0.1)]
    [InlineData(12, 10, 0.1)]
    [InlineData(14, 8, 0.3)]
    public void On_direct_current_it_burns_until_the_circuit_gives_it_less_than_its_least_current(double volts, double ohms, double henries)
    {
        var letGo = 1e-3 + 12 * henries / ohms;
        var run = Run([new VoltageSource("v", "a", "0", volts), new Resistor("r", "b", "c", ohms), new Inductor("l", "c", "0", henries), new Capacitor("cw", "b", "0", 1e-9) { SeriesResistance = 1e3 }], letGo, letGo + (5 * henries / ohms));
        var end = (volts - Arc) / ohms;
        var expected = henries / ohms * Math.Log((volts / ohms - end) / (Least - end));
        Assert.Equal(expected, At(run, "open") - At(run, "arcing"), 0.01 * expected);
    }

    // A source that has the arc's voltage and current to spare keeps it for ever: (24 V - 12 V)/10 ohm.
    [Fact]
    public void Enough_volts_and_amperes_keep_it_burning()
    {
        var run = Run([new VoltageSource("v", "a", "0", 24), new Resistor("r", "b", "0", 10)], 20e-3, 0.2);
        Assert.Equal((24 - Arc) / 10, run.Values(0)[^1], 0.005);
        Assert.Equal(Arc, run.Values(1)[^1], 0.1);
        Assert.DoesNotContain(run.Events, e => e.Part == "s" && e.State == "open");
    }

    [Theory]
    [InlineData(24, 100)]
    [InlineData(12, 20)]
    public void Without_the_current_or_without_the_volts_there_is_none(double volts, double ohms)
    {
        var run = Run([new VoltageSource("v", "a", "0", volts), new Resistor("r", "b", "0", ohms)], 20e-3, 0.05);
        Assert.Equal(volts, run.Values(1)[^1], 1e-3);
        Assert.True(Burning(run) < 1e-6);
    }

    // A resistor on the line: i = (170 V sin wt - 12 V)/R falls to 0.4 A where sin wt = (0.4 A R + 12 V)/170 V.
    [Theory]
    [InlineData(20e-3)]
    [InlineData(30e-3)]
    public void On_alternating_current_it_ends_near_the_next_zero(double letGo)
    {
        const double ohms = 14.4, crest = 170, hertz = 60;
        var run = Run([new VoltageSource("v", "a", "0", new SineWaveform { Amplitude = crest, Frequency = hertz }), new Resistor("r", "b", "0", ohms)], letGo, letGo + 30e-3);
        var before = Math.Asin((Least * ohms + Arc) / crest) / (2 * Math.PI * hertz);
        var (from, to) = (At(run, "arcing"), At(run, "open"));
        var zero = Math.Ceiling(from * 2 * hertz) / (2 * hertz);
        Assert.Equal(zero - before, to, 2e-6);
        Assert.Equal(1, run.Events.Count(e => e.Part == "s" && e.State == "arcing"));
    }

    [Fact]
    public void Second_run_of_the_same_system_repeats_the_first()
    {
        var circuit = new Circuit();
        foreach (var device in Relay(20e-3).Concat([new VoltageSource("v", "a", "0", new SineWaveform { Amplitude = 170, Frequency = 60 }), new Resistor("r", "b", "0", 20)]))
        {
            circuit.Add(device);
        }

        var system = new CircuitSystem(circuit);
        var options = new TransientOptions { Stop = 60e-3 };
        var first = Transient.Run(system, options, [Probe.Current("s")]);
        var second = Transient.Run(system, options, [Probe.Current("s")]);
        Assert.Equal(first.Events, second.Events);
        Assert.Equal(first.Values(0), second.Values(0));
    }

    // A contact is where its coil is in an operating point, and there is no arc in one.
    [Theory]
    [InlineData(0, false, 0)]
    [InlineData(12, false, 1)]
    [InlineData(0, true, 1)]
    [InlineData(12, true, 0)]
    public void An_operating_point_has_it_open_or_closed(double coilVolts, bool normallyClosed, double closed)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("vc", "k", "0", coilVolts));
        circuit.Add(new RelayCoil("k1", "k", "0", 300, 0.1, 0.1, 0.02, 0.01));
        circuit.Add(new VoltageSource("v", "a", "0", 50));
        circuit.Add(new ArcingContact("s", "a", "b", "k1") { IsNormallyClosed = normallyClosed });
        circuit.Add(new Resistor("r", "b", "0", 10));
        var point = OperatingPoint.Solve(new CircuitSystem(circuit));
        Assert.Equal(closed, point.State("s", "closed"));
        Assert.Equal(0, point.State("s", "arcing"));
        Assert.Equal(50 * closed, point.Voltage("b"), 0.06);
    }

    private static double Burning(TransientResult run)
    {
        var time = 0.0;
        for (var k = 1; k < run.Times.Length; k++)
        {
            time += run.Values(2)[k] > 0.5 ? run.Times[k] - run.Times[k - 1] : 0;
        }

        return time;
    }
}
