using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>A run can be changed, cut short and repeated, and each time what it says holds.</summary>
public sealed class RunControlTests
{
    // A capacitor charged to 10 V through 1 k whose capacitance is doubled has half the voltage at the same charge, and goes on
    // with twice the time constant: v = 10 - (10 - v1 / 2) exp(-(t - t1) / 2 R C).
    [Fact]
    public void Change_in_mid_run_keeps_the_charge()
    {
        var capacitor = new Capacitor("c", "a", "0", 1e-6) { InitialVoltage = 0 };
        var system = new CircuitSystem(Circuit(new VoltageSource("v", "in", "0", 10), new Resistor("r", "in", "a", 1e3), capacitor));
        using var run = new TransientRun(system, new TransientOptions { Stop = 6e-3, UseInitialConditions = true, Accuracy = 1e-5 });
        var at = system.NodeIndex("a");
        while (run.Time < 2e-3)
        {
            Assert.True(run.Advance());
        }

        var (t1, v1) = (run.Time, run.State[at]);
        Assert.Equal(10 * (1 - Math.Exp(-t1 / 1e-3)), v1, 3e-4);
        run.Change(() => capacitor.Capacitance = 2e-6);
        while (run.Advance())
        {
            Assert.Equal(10 - (10 - v1 / 2) * Math.Exp(-(run.Time - t1) / 2e-3), run.State[at], 4e-4);
        }

        Assert.Equal(RunStatus.Completed, run.Status);
    }

    // The flux of an inductor carries over as well: half the inductance, twice the current.
    [Fact]
    public void Change_in_mid_run_keeps_the_flux()
    {
        var inductor = new Inductor("l", "a", "0", 10e-3) { InitialCurrent = 1 };
        var system = new CircuitSystem(Circuit(new Resistor("r", "a", "0", 10), inductor));
        using var run = new TransientRun(system, new TransientOptions { Stop = 2e-3, UseInitialConditions = true, Accuracy = 1e-5 });
        var at = system.BranchIndex("l");
        while (run.Time < 0.5e-3)
        {
            Assert.True(run.Advance());
        }

        var (t1, i1) = (run.Time, run.State[at]);
        run.Change(() => inductor.Inductance = 5e-3);
        while (run.Advance())
        {
            Assert.Equal(2 * i1 * Math.Exp(-(run.Time - t1) / 0.5e-3), run.State[at], 4e-5);
        }
    }

    [Fact]
    public void Restamped_system_gives_the_bytes_of_a_fresh_one()
    {
        static Circuit Make(double ohms) => Circuit(
            new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 50 }),
            new Diode("d", "in", "a", new DiodeModel { SeriesResistance = 0.1 }),
            new Capacitor("c", "a", "0", 100e-6),
            new Resistor("r", "a", "0", ohms));
        var options = new TransientOptions { Stop = 60e-3 };
        var circuit = Make(220);
        var system = new CircuitSystem(circuit);
        Transient.Run(system, options, [Probe.Voltage("a")]);
        circuit.Get<Resistor>("r").Resistance = 1e3;
        system.Restamp();
        var again = Transient.Run(system, options, [Probe.Voltage("a"), Probe.Current("d")]);
        var fresh = Transient.Run(new CircuitSystem(Make(1e3)), options, [Probe.Voltage("a"), Probe.Current("d")]);
        Assert.Equal(fresh.Times, again.Times);
        Assert.Equal(fresh.Values(0), again.Values(0));
        Assert.Equal(fresh.Values(1), again.Values(1));
    }

    [Fact]
    public void Restamped_operating_point_follows_the_parameter()
    {
        var circuit = Circuit(new VoltageSource("v", "in", "0", 9), new Resistor("r1", "in", "a", 1e3), new Resistor("r2", "a", "0", 2e3));
        var system = new CircuitSystem(circuit);
        Near(6, OperatingPoint.Solve(system).Voltage("a"), 1e-12);
        circuit.Get<Resistor>("r2").Resistance = 500;
        system.Restamp();
        Near(3, OperatingPoint.Solve(system).Voltage("a"), 1e-12);
    }

    [Fact]
    public void Clone_is_changed_and_run_apart_from_the_original()
    {
        var circuit = Circuit(new VoltageSource("v", "in", "0", 9), new Resistor("r1", "in", "a", 1e3), new Resistor("r2", "a", "0", 2e3));
        var copy = circuit.Clone();
        copy.Get<Resistor>("r2").Resistance = 500;
        Near(3, Solve(copy).Voltage("a"), 1e-12);
        Near(6, Solve(circuit).Voltage("a"), 1e-12);
    }

    [Fact]
    public void Cancelled_run_stands_at_a_sound_point()
    {
        using var cancel = new CancellationTokenSource();
        var system = new CircuitSystem(Charging());
        using var run = new TransientRun(system, new TransientOptions { Stop = 5e-3, UseInitialConditions = true, Accuracy = 1e-5, Cancellation = cancel.Token });
        while (run.Time < 1e-3)
        {
            Assert.True(run.Advance());
        }

        cancel.Cancel();
        var time = run.Time;
        Assert.False(run.Advance());
        Assert.False(run.Advance());
        Assert.Equal(RunStatus.Cancelled, run.Status);
        Assert.Equal(time, run.Time);
        Assert.Equal(10 * (1 - Math.Exp(-time / 1e-3)), run.State[system.NodeIndex("a")], 3e-4);
        Assert.InRange(run.Evidence.PowerBalance, 0, 1e-4);
    }

    [Fact]
    public void Cancelled_recording_keeps_what_was_computed()
    {
        using var cancel = new CancellationTokenSource();
        cancel.Cancel();
        var result = Run(Charging(), new TransientOptions { Stop = 5e-3, UseInitialConditions = true, Cancellation = cancel.Token }, Probe.Voltage("a"));
        Assert.Equal(RunStatus.Cancelled, result.Status);
        Assert.Equal([0.0], result.Times);
    }

    [Fact]
    public void Wall_clock_limit_ends_the_run_and_says_so()
    {
        var system = new CircuitSystem(Charging());
        using var run = new TransientRun(system, new TransientOptions { Stop = 5e-3, UseInitialConditions = true, WallClockLimit = TimeSpan.Zero });
        Assert.False(run.Advance());
        Assert.Equal(RunStatus.TimedOut, run.Status);
        Assert.Equal(0, run.Time);
    }

    [Fact]
    public void System_runs_again_after_a_run_that_was_cut_short()
    {
        var system = new CircuitSystem(Charging());
        var options = new TransientOptions { Stop = 5e-3, UseInitialConditions = true };
        var first = Transient.Run(system, options, [Probe.Voltage("a")]);
        using (var cut = new TransientRun(system, options))
        {
            for (var k = 0; k < 5; k++)
            {
                cut.Advance();
            }
        }

        var second = Transient.Run(system, options, [Probe.Voltage("a")]);
        Assert.Equal(first.Times, second.Times);
        Assert.Equal(first.Values(0), second.Values(0));
    }

    [Fact]
    public void Record_starts_where_it_was_asked_to()
    {
        var result = Run(Charging(), new TransientOptions { Stop = 5e-3, Start = 2e-3, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Voltage("a"));
        Assert.Equal(2e-3, result.Times[0]);
        Assert.Equal(10 * (1 - Math.Exp(-2)), result.Values(0)[0], 3e-4);
    }

    // Capacitors of 1 uF at 10 V and 3 uF at 2 V, tied together: charge is kept, (10 + 6) / 4 = 4 V (any physics text).
    [Fact]
    public void Contradicting_start_voltages_share_their_charge()
    {
        var result = Run(
            Circuit(
                new Capacitor("c1", "a", "0", 1e-6) { InitialVoltage = 10 },
                new Capacitor("c2", "a", "0", 3e-6) { InitialVoltage = 2 },
                new Resistor("r", "a", "0", 1e9)),
            new TransientOptions { Stop = 1e-3, UseInitialConditions = true },
            Probe.Voltage("a"));
        Assert.Equal(4, result.Values(0)[0], 1e-6);
        Assert.Equal(4, result.Values(0)[^1], 1e-4);
    }

    // A source wins over the start voltage of a capacitor across it; one behind a resistor starts as it was told.
    [Fact]
    public void Source_overrides_a_start_voltage_across_it()
    {
        var result = Run(
            Circuit(
                new VoltageSource("v", "a", "0", 5),
                new Capacitor("c1", "a", "0", 1e-6) { InitialVoltage = 10 },
                new Resistor("r", "a", "b", 1e3),
                new Capacitor("c2", "b", "0", 1e-6) { InitialVoltage = -3 }),
            new TransientOptions { Stop = 5e-3, UseInitialConditions = true, Accuracy = 1e-4 },
            Probe.Voltage("a"),
            Probe.Voltage("b"));
        Assert.Equal(5, result.Values(0)[0], 1e-9);
        for (var k = 0; k < result.Times.Length; k++)
        {
            Assert.Equal(5 - 8 * Math.Exp(-result.Times[k] / 1e-3), result.Values(1)[k], 2e-3);
        }
    }

    // v' = v^2 from 1 V is 1 / (1 - t): it passes all bounds at one second, and nothing can be computed beyond.
    [Fact]
    public void Run_that_gets_stuck_names_time_step_node_and_part()
    {
        var circuit = Circuit(
            new Capacitor("c", "hot", "0", 1) { InitialVoltage = 1 },
            new Conductor("runaway", "hot", "0", v => (-v * v, -2 * v)));
        var problem = Assert.Throws<SolverException>(() => Run(circuit, new TransientOptions { Stop = 2, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Voltage("hot")));
        var text = problem.Message;
        Assert.Contains("node hot (parts c, runaway)", text, StringComparison.Ordinal);
        Assert.Matches("with a step of [0-9.e+-]+ s", text);
        var time = double.Parse(text.Split("t = ")[1].Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(1, time, 1e-3);
    }

    [Theory]
    [InlineData(0, 1e-3)]
    [InlineData(double.NaN, 1e-3)]
    [InlineData(1, 0.5)]
    [InlineData(1, 1e-12)]
    public void Settings_out_of_range_are_refused(double stop, double accuracy) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Run(Charging(), new TransientOptions { Stop = stop, Accuracy = accuracy }, Probe.Voltage("a")));

    private static Circuit Charging() =>
        Circuit(new VoltageSource("v", "in", "0", 10), new Resistor("r", "in", "a", 1e3), new Capacitor("c", "a", "0", 1e-6) { InitialVoltage = 0 });
}
