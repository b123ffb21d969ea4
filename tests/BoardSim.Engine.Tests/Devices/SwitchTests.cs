using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Switches with hysteresis (Berkeley SPICE3 user's manual, elements S and W: on above VT + VH, off below VT - VH).</summary>
public sealed class SwitchTests
{
    private static readonly SwitchModel Model = new() { Threshold = 2.5, Hysteresis = 0.5, OnResistance = 1, OffResistance = 1e6 };

    [Theory]
    [InlineData(0.5)]
    [InlineData(-0.5)]
    public void Sweep_up_turns_on_at_three_volts_and_down_turns_off_at_two(double hysteresis)
    {
        var source = new VoltageSource("vc", "c", "0");
        var circuit = Loaded(new VoltageSwitch("s", "a", "0", "c", "0", Model with { Hysteresis = hysteresis }), source);
        double[] control = [0, 1, 2.9, 3.1, 4, 2.9, 2.1, 1.9, 0];
        bool[] expected = [false, false, false, true, true, true, true, false, false];
        var volts = Sweep(circuit, control, v => source.Waveform = new DcWaveform(v), Probe.Voltage("a"));
        Assert.Equal(expected, volts.Select(v => v < 1));
    }

    [Theory]
    [InlineData(false, 10)]
    [InlineData(true, 0.01)]
    public void Within_the_band_the_initial_state_decides(bool initially, double volts)
    {
        var circuit = Loaded(new VoltageSwitch("s", "a", "0", "c", "0", Model) { InitiallyOn = initially }, new VoltageSource("vc", "c", "0", 2.5));
        Near(volts, Solve(circuit).Voltage("a"), 0.01);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Control_that_is_high_from_the_start_finds_the_switch_on(bool initialConditions)
    {
        var circuit = Loaded(new VoltageSwitch("s", "a", "0", "c", "0", Model), new VoltageSource("vc", "c", "0", 5));
        var result = Run(circuit, new TransientOptions { Stop = 1e-3, UseInitialConditions = initialConditions }, Probe.Voltage("a"));
        Assert.All(result.Values(0), v => Assert.InRange(v, 0, 0.011));
    }

    // A 0 to 5 V triangle of 1 ms passes 3 V upwards at 0.6 ms and 2 V downwards at 1.6 ms: arithmetic.
    [Fact]
    public void Switching_instants_are_located()
    {
        var triangle = new PiecewiseLinearWaveform([0, 1e-3, 2e-3], [0, 5, 0]);
        var circuit = Loaded(new VoltageSwitch("s", "a", "0", "c", "0", Model), new VoltageSource("vc", "c", "0", triangle));
        var result = Run(circuit, new TransientOptions { Stop = 2e-3 }, Probe.Voltage("a"));
        Assert.Equal([("on", 0.6e-3), ("off", 1.6e-3)], result.Events.Select(e => (e.State, Math.Round(e.Time, 9))));
        Near(10 / 1.001, result.At(0.59e-3), 1e-3);
        Near(10 / 1001.0, result.At(0.61e-3), 1e-3);
    }

    [Fact]
    public void Without_hysteresis_each_crossing_switches_once()
    {
        var circuit = Loaded(
            new VoltageSwitch("s", "a", "0", "c", "0", Model with { Threshold = 0, Hysteresis = 0 }),
            new VoltageSource("vc", "c", "0", new SineWaveform { Amplitude = 5, Frequency = 1e3, PhaseDegrees = -90 }));
        var result = Run(circuit, new TransientOptions { Stop = 2e-3 }, Probe.Voltage("a"));
        Assert.Equal(["on", "off", "on", "off"], result.Events.Select(e => e.State));
        double[] crossings = [0.25e-3, 0.75e-3, 1.25e-3, 1.75e-3];
        foreach (var (expected, found) in crossings.Zip(result.Events))
        {
            Assert.Equal(expected, found.Time, 1e-8);
        }
    }

    [Fact]
    public void Switch_that_pulls_down_its_own_control_oscillates_between_its_thresholds()
    {
        // Relaxation oscillator: C charges through R towards 10 V and is discharged by the switch through 100 ohm. From 2 to 3 V the rise takes
        // R C ln(8/7), the fall from 3 to 2 V about Rs C ln((3 - e)/(2 - e)) with e = 10 Rs/(R + Rs), Rs C reduced to the parallel value: closed form of an RC.
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", 10),
            new Resistor("r", "in", "a", 10e3),
            new Capacitor("c", "a", "0", 100e-9) { InitialVoltage = 0 },
            new VoltageSwitch("s", "a", "0", "a", "0", Model with { OnResistance = 100, OffResistance = 1e9 }));
        var result = Run(circuit, new TransientOptions { Stop = 5e-3, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Voltage("a"));
        var ons = result.Events.Where(e => e.State == "on").Select(e => e.Time).ToArray();
        Assert.True(ons.Length > 10);
        Near(1.3353139e-4 + 4.1800e-6, (ons[^1] - ons[1]) / (ons.Length - 2), 2e-4);
    }

    [Fact]
    public void Current_switch_follows_the_current_of_its_source()
    {
        var control = new CurrentSource("ic", "0", "c");
        var circuit = Loaded(
            new CurrentSwitch("s", "a", "0", "vm", new SwitchModel { Threshold = 10e-3, Hysteresis = 2e-3, OffResistance = 1e6 }),
            new VoltageSource("vm", "c", "0"),
            control);
        double[] sweep = [0, 11e-3, 13e-3, 9e-3, 7e-3];
        var volts = Sweep(circuit, sweep, i => control.Waveform = new DcWaveform(i), Probe.Voltage("a"));
        Assert.Equal([false, false, true, true, false], volts.Select(v => v < 1));
    }

    [Fact]
    public void Resistance_of_zero_is_refused_with_part_and_range()
    {
        var problem = Assert.Throws<CircuitException>(() => new CircuitSystem(Loaded(new VoltageSwitch("s", "a", "0", "a", "0", new SwitchModel { OnResistance = 0 }))));
        Assert.Contains("s: on resistance 0 ohm", problem.Message, StringComparison.Ordinal);
    }

    private static Circuit Loaded(params Device[] parts) =>
        Circuit([.. parts, new VoltageSource("v", "supply", "0", 10), new Resistor("load", "supply", "a", 1e3)]);
}
