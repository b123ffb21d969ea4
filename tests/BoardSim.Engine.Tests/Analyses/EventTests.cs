using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Crossings are found where they are, each once, and what they change is seen on both sides.</summary>
public sealed class EventTests
{
    private static readonly SwitchModel Model = new() { Threshold = 2.5, Hysteresis = 0.5, OnResistance = 1, OffResistance = 1e6 };

    // 5 V sine: it rises past 3 V at asin(0.6) / w and falls past 2 V at (pi - asin(0.4)) / w, every period.
    [Theory]
    [InlineData(1e-2)]
    [InlineData(1e-3)]
    [InlineData(1e-6)]
    public void Sine_switches_at_its_closed_form_instants(double accuracy)
    {
        const double stop = 10e-3;
        var w = 2 * Math.PI * 1e3;
        var result = Run(
            Switched(new VoltageSource("vc", "c", "0", new SineWaveform { Amplitude = 5, Frequency = 1e3 })),
            new TransientOptions { Stop = stop, Accuracy = accuracy },
            Probe.Voltage("a"));
        Assert.Equal(20, result.Events.Count);
        for (var k = 0; k < result.Events.Count; k++)
        {
            var (on, period) = (k % 2 == 0, k / 2);
            Assert.Equal(on ? "on" : "off", result.Events[k].State);
            Assert.Equal((on ? Math.Asin(0.6) : Math.PI - Math.Asin(0.4)) / w + period * 1e-3, result.Events[k].Time, 1e-9 * stop);
        }
    }

    // Edges of 1 us from 0 to 5 V every 10 us: 3 V after 0.6 us of the rise, 2 V after 0.6 us of the fall.
    [Fact]
    public void Pulse_edges_switch_at_their_closed_form_instants()
    {
        const double stop = 200e-6;
        var pulse = new PulseWaveform { High = 5, Delay = 2e-6, Rise = 1e-6, Fall = 1e-6, Width = 3e-6, Period = 10e-6 };
        var result = Run(Switched(new VoltageSource("vc", "c", "0", pulse)), new TransientOptions { Stop = stop }, Probe.Voltage("a"));
        Assert.Equal(40, result.Events.Count);
        for (var k = 0; k < result.Events.Count; k++)
        {
            Assert.Equal((k % 2 == 0 ? 2.6e-6 : 6.6e-6) + k / 2 * 10e-6, result.Events[k].Time, 1e-9 * stop);
        }
    }

    // RC towards 10 V passes 3 V at R C ln(10 / 7).
    [Fact]
    public void Charging_capacitor_switches_at_its_closed_form_instant()
    {
        var result = Run(
            Switched(new VoltageSource("vc", "s", "0", 10), new Resistor("rc", "s", "c", 1e3), new Capacitor("cc", "c", "0", 1e-6) { InitialVoltage = 0 }),
            new TransientOptions { Stop = 5e-3, Accuracy = 1e-7, UseInitialConditions = true },
            Probe.Voltage("a"));
        var on = Assert.Single(result.Events);
        Assert.Equal(1e-3 * Math.Log(10.0 / 7), on.Time, 1e-9);
    }

    // The divider of 1 kohm and the switch: 10 V 1e6 / (1e6 + 1e3) when off, 10 V / 1001 when on. Both values stand at the
    // instant of the event: the left one on it, the right one next to it.
    [Fact]
    public void Values_on_both_sides_of_the_event_are_recorded()
    {
        var triangle = new PiecewiseLinearWaveform([0, 1e-3, 2e-3], [0, 5, 0]);
        var result = Run(Switched(new VoltageSource("vc", "c", "0", triangle)), new TransientOptions { Stop = 2e-3 }, Probe.Voltage("a"));
        var (off, on) = (10 * 1e6 / 1.001e6, 10.0 / 1001);
        foreach (var (at, left, right) in new[] { (result.Events[0].Time, off, on), (result.Events[1].Time, on, off) })
        {
            var k = Array.IndexOf(result.Times, at);
            Assert.True(k > 0);
            Near(left, result.Values(0)[k], 1e-9);
            Near(right, result.Values(0)[k + 1], 1e-9);
            Assert.InRange(result.Times[k + 1] - at, 0, 1e-6 * 2e-3);
        }
    }

    // Step response of a series resonance with Q = 10: the first peak reaches 1 + exp(-pi a / d), and the voltage is above a
    // threshold just below it for a moment only, far shorter than the steps that the accuracy of a percent takes there.
    [Theory]
    [InlineData(0.99, 1e-2)]
    [InlineData(0.999, 1e-2)]
    [InlineData(0.9999, 1e-2)]
    [InlineData(0.9999, 1e-3)]
    [InlineData(0.99999, 1e-5)]
    public void Peak_that_barely_tops_the_threshold_is_not_missed(double share, double accuracy)
    {
        var w0 = 2 * Math.PI * 1e3;
        const double henries = 10e-3;
        var a = w0 / 20;
        var d = Math.Sqrt(w0 * w0 - a * a);
        var peak = 10 * (1 + Math.Exp(-Math.PI * a / d));

        // The solver's own peak is off by its accuracy, so the threshold is set from what it computes without a switch.
        Device[] resonance =
        [
            new VoltageSource("v1", "in", "0", 10),
            new Resistor("r1", "in", "m", w0 * henries / 10),
            new Inductor("l1", "m", "c", henries) { InitialCurrent = 0 },
            new Capacitor("c1", "c", "0", 1 / (w0 * w0 * henries)) { InitialVoltage = 0 },
        ];
        var options = new TransientOptions { Stop = 2e-3, Accuracy = accuracy, UseInitialConditions = true };
        var free = Run(Circuit([.. resonance.Select(r => r.Clone())]), options, Probe.Voltage("c")).Values(0).Max();
        Near(peak, free, 3 * accuracy);
        var circuit = Switched(Model with { Threshold = share * free, Hysteresis = 0 }, resonance);
        var events = Run(circuit, options, Probe.Voltage("a")).Events;
        Assert.Equal(["on", "off"], events.Select(e => e.State));
        Assert.InRange(Math.PI / d, events[0].Time - 0.02e-3, events[1].Time + 0.02e-3);
    }

    // A 1 kHz sine of 5 V is above 4.999 V for acos(0.9998) / pi = 0.6 % of each period, an eighth of the step there.
    [Theory]
    [InlineData(4.99)]
    [InlineData(4.999)]
    public void Crest_that_barely_tops_the_threshold_is_not_missed(double threshold)
    {
        var result = Run(
            Switched(Model with { Threshold = threshold, Hysteresis = 0 }, new VoltageSource("vc", "c", "0", new SineWaveform { Amplitude = 5, Frequency = 1e3 })),
            new TransientOptions { Stop = 5e-3 },
            Probe.Voltage("a"));
        Assert.Equal(10, result.Events.Count);
        var half = Math.Acos(threshold / 5) / (2 * Math.PI * 1e3);
        for (var k = 0; k < 5; k++)
        {
            // A switch without hysteresis still has a band of a millionth of its threshold (stated in its model).
            Assert.Equal(2 * half, result.Events[2 * k + 1].Time - result.Events[2 * k].Time, 0.01 * half);
        }
    }

    // A guard that stays positive after it fired speaks again only after it has been negative: once per period of the sine.
    [Fact]
    public void Guard_is_mute_until_crossed_back()
    {
        var counter = new Counter("n1", "c", 3);
        Run(
            Circuit(new VoltageSource("vc", "c", "0", new SineWaveform { Amplitude = 5, Frequency = 1e3 }), new Resistor("r", "c", "0", 1e3), counter),
            new TransientOptions { Stop = 5e-3 },
            Probe.Voltage("c"));
        Assert.Equal(5, counter.Times.Count);
        for (var k = 0; k < 5; k++)
        {
            Assert.Equal(Math.Asin(0.6) / (2 * Math.PI * 1e3) + k * 1e-3, counter.Times[k], 5e-12);
        }
    }

    [Fact]
    public void Switches_of_equal_threshold_fire_together()
    {
        var triangle = new PiecewiseLinearWaveform([0, 1e-3, 2e-3], [0, 5, 0]);
        var circuit = Switched(new VoltageSource("vc", "c", "0", triangle));
        circuit.Add(new VoltageSwitch("s2", "supply", "b", "c", "0", Model));
        circuit.Add(new Resistor("rb", "b", "0", 1e3));
        var events = Run(circuit, new TransientOptions { Stop = 2e-3 }, Probe.Voltage("a"), Probe.Voltage("b")).Events;
        Assert.Equal(["s", "s2", "s", "s2"], events.Select(e => e.Part));
        Assert.Equal(events[0].Time, events[1].Time);
        Assert.Equal(events[2].Time, events[3].Time);
        Assert.Equal(4, events.Count);
    }

    // A chain within one step: the first switch drives the second, whose threshold is passed by the jump itself.
    [Fact]
    public void Jump_that_crosses_another_threshold_fires_it_at_the_same_instant()
    {
        var triangle = new PiecewiseLinearWaveform([0, 1e-3, 2e-3], [0, 5, 0]);
        var circuit = Switched(new VoltageSource("vc", "c", "0", triangle));

        // s2 follows node a, which falls from 10 V to 10 mV when s turns on.
        circuit.Add(new VoltageSwitch("s2", "supply", "b", "a", "0", Model) { InitiallyOn = true });
        circuit.Add(new Resistor("rb", "b", "0", 1e3));
        var events = Run(circuit, new TransientOptions { Stop = 2e-3 }, Probe.Voltage("b")).Events;
        Assert.Equal([("s", "on"), ("s2", "off"), ("s", "off"), ("s2", "on")], events.Select(e => (e.Part, e.State)));
        Assert.Equal(0.6e-3, events[1].Time, 1e-8);
        Assert.Equal(1.6e-3, events[3].Time, 1e-8);
    }

    // A switch that shorts its own control voltage and has nothing to slow it down has no state at all once 3 V are reached.
    [Fact]
    public void Chatter_is_refused_with_time_and_part()
    {
        var ramp = new PiecewiseLinearWaveform([0, 1e-3], [0, 10]);
        var circuit = Circuit(
            new VoltageSource("v", "supply", "0", ramp),
            new Resistor("load", "supply", "a", 1e3),
            new VoltageSwitch("s", "a", "0", "a", "0", Model with { OffResistance = 1e9 }));
        var problem = Assert.Throws<SolverException>(() => Run(circuit, new TransientOptions { Stop = 1e-3 }, Probe.Voltage("a")));
        Assert.Contains("s changes its state again and again without time passing", problem.Message, StringComparison.Ordinal);
        Assert.Contains("t = 0.0003", problem.Message, StringComparison.Ordinal);
        Assert.Contains("hysteresis", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Chatter_at_direct_current_is_refused_with_the_part()
    {
        var circuit = Circuit(
            new VoltageSource("v", "supply", "0", 10),
            new Resistor("load", "supply", "a", 1e3),
            new VoltageSwitch("s", "a", "0", "a", "0", Model));
        var problem = Assert.Throws<SolverException>(() => Run(circuit, new TransientOptions { Stop = 1e-3 }, Probe.Voltage("a")));
        Assert.Contains("Operating point: the states of s keep changing", problem.Message, StringComparison.Ordinal);
    }

    private static Circuit Switched(params Device[] control) => Switched(Model, control);

    private static Circuit Switched(SwitchModel model, params Device[] control) => Circuit(
        [.. control, new VoltageSource("v", "supply", "0", 10), new Resistor("load", "supply", "a", 1e3), new VoltageSwitch("s", "a", "0", "c", "0", model)]);

    /// <summary>Counts how often a node rises past a level; its guard does not change sign by itself.</summary>
    private sealed class Counter(string name, string node, double level) : Device(name, node), IDiscrete
    {
        private int at;

        public List<double> Times { get; } = [];

        public int GuardCount => 1;

        public string StateName => "counted";

        public object Memory
        {
            get => Times.Count;
            set => Times.RemoveRange((int)value, Times.Count - (int)value);
        }

        public override IEnumerable<Link> Links => [];

        public override void Bind(Binder binder) => at = binder.Node(Nodes[0]);

        public void Guards(double time, ReadOnlySpan<double> x, Span<double> values) => values[0] = x[at] - level;

        public void Cross(int guard, double time, ReadOnlySpan<double> x) => Times.Add(time);

        public void Reset() => Times.Clear();
    }
}
