using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Supervisor, processor and outputs against data sheet figures and arithmetic.</summary>
public sealed class ProcessorTests
{
    // ATmega328PB data sheet, table 33-7: brown-out level 2.7 V with a hysteresis of 50 mV about it, so reset at 2.675 V going down, release at 2.725 V going up.
    [Fact]
    public void Reset_comes_and_goes_at_the_data_sheets_levels()
    {
        // Down from 5 V to 0 V within a second and up again: 2.675 V is passed at 0.465 s, 2.725 V at 1.545 s.
        var circuit = Supply(new PiecewiseLinearWaveform([0, 1, 2], [5, 0, 5]), new ResetSupervisor("u", "v", "0", "r", 2.675) { Hysteresis = 0.05, Delay = 0, ReactionTime = 0 });
        var changes = Run(circuit, new TransientOptions { Stop = 2 }, Probe.Voltage("r")).Events;
        Assert.Equal(["low", "released"], changes.Select(e => e.State));
        Near(0.465, changes[0].Time, 1e-6);
        Near(1.545, changes[1].Time, 1e-6);
    }

    // Same table: the shortest low supply that is sure to be noticed lasts 2 us.
    [Theory]
    [InlineData(1e-6, 0)]
    [InlineData(10e-6, 1)]
    public void Dips_shorter_than_the_reaction_time_pass(double length, int resets)
    {
        var dip = new PulseWaveform { Low = 5, High = 2, Delay = 1e-3, Rise = 1e-9, Fall = 1e-9, Width = length };
        var circuit = Supply(dip, new ResetSupervisor("u", "v", "0", "r", 2.675) { Delay = 1e-4, ReactionTime = 2e-6 });
        var processor = new Processor("p", "v", "0", "r", "a") { MinimumVoltage = 1.8 };
        circuit.Add(processor);
        var run = Run(circuit, new TransientOptions { Stop = 10e-3 }, Probe.State("p", "reset-count"));
        Assert.Equal(resets, run.Values(0)[^1]);
    }

    // t = C dV / I: 470 uF from 5 V to 2.675 V at 50 mA, 21.86 ms.
    [Fact]
    public void Capacitor_holds_the_processor_up_by_its_charge()
    {
        var circuit = Circuit(
            new Capacitor("c", "v", "0", 470e-6) { InitialVoltage = 5 },
            new Resistor("pull", "v", "r", 10e3),
            new ResetSupervisor("u", "v", "0", "r", 2.675) { ReactionTime = 0, Delay = 0 },
            new Processor("p", "v", "0", "r", "a") { RunCurrent = 50e-3, StartUpTime = 0, MinimumVoltage = 1.8 });
        var run = Run(circuit, new TransientOptions { Stop = 40e-3, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Voltage("v"));
        Near(21.86e-3, run.Events.First(e => e is { Part: "u", State: "low" }).Time, 1e-3);
    }

    // Times scale with 1 / frequency: 10 ms of the program take 12.5 ms at 80 %.
    [Theory]
    [InlineData(1, 10e-3)]
    [InlineData(0.8, 12.5e-3)]
    public void All_times_of_the_program_follow_its_time_base(double ratio, double period)
    {
        var circuit = Running(new Processor("p", "v", "0", "r", "a")
        {
            ClockRatio = ratio,
            StartUpTime = 2e-3,
            Programs = [new() { Mode = PortMode.Pwm, OnAt = 5e-3, Period = 10e-3, Duty = 0.25 }],
        });
        var run = Run(circuit, new TransientOptions { Stop = 0.2 }, Probe.Voltage("out"));
        var edges = run.Events.Where(e => e.Part == "p").Select(e => e.Time).ToList();
        Near((5e-3) / ratio, edges[0], 1e-9);
        for (var k = 0; k + 2 < edges.Count; k += 2)
        {
            Near(0.25 * period, edges[k + 1] - edges[k], 1e-7);
            Near(period, edges[k + 2] - edges[k], 1e-7);
        }
    }

    // The mean of pulses into a low-pass is the duty times the amplitude (Fourier series of a pulse train, order zero): 5 V * 0.3, less the output's resistance to the load, equal in both
    // transistors here, 1000 / 1040. Edge by edge and by their mean it is the same, at a hundredth of the points.
    [Fact]
    public void Mean_of_pulses_is_what_a_load_makes_of_their_edges()
    {
        var (edges, mean) = (Filtered(false), Filtered(true));
        Near(1.5 * 1000 / 1040, mean.At(0.99), 2e-3);

        // Half of the ripple that is left, d (1 - d) 5 V T / tau, is 5 mV.
        Near(mean.At(0.99), edges.At(0.99), 5e-3);
        Assert.True(mean.Evidence.Points * 20 < edges.Evidence.Points);

        static TransientResult Filtered(bool isMean) => Run(
            Circuit(
                new VoltageSource("vs", "v", "0", 5),
                new Resistor("pull", "v", "r", 10e3),
                new Processor("p", "v", "0", "r", "a") { Programs = [new() { Mode = PortMode.Pwm, Period = 1e-3, Duty = 0.3, IsMean = isMean }] },
                new ProcessorPort("p1", "out", "v", "0", "p", 0) { SourceResistance = 40, SinkResistance = 40, SourceLimit = 1, SinkLimit = 1 },
                new Inductor("l", "out", "filtered", 100),
                new Resistor("load", "filtered", "0", 1e3)),
            new TransientOptions { Stop = 1, Accuracy = 1e-4 },
            Probe.Voltage("filtered"));
    }

    // A schedule that repeats, over more periods than rounding could survive if errors added up.
    [Fact]
    public void Repeated_schedule_keeps_time_over_many_periods()
    {
        var circuit = Running(new Processor("p", "v", "0", "r", "a") { Programs = [new() { Mode = PortMode.Schedule, OnAt = 0.1, OffAt = 0.3, Period = 0.7 }] });
        var run = Run(circuit, new TransientOptions { Stop = 700.05 }, Probe.Voltage("out"));
        var edges = run.Events.Where(e => e.Part == "p").Select(e => e.Time).ToList();
        Assert.Equal(2000, edges.Count);
        Near(999 * 0.7 + 0.3, edges[^1], 1e-12);
    }

    // ATmega328PB data sheet, figure of output low voltage (from memory): at most 0.9 V at 20 mA and 5 V, which is 45 ohm. Far below its limit the output is that resistance;
    // at twice R times the limit it gives the limit, three quarters of it at half of that voltage: the square law of Shichman and Hodges.
    [Theory]
    [InlineData(1.0, 20e-3, 0.9, 0.01)]
    [InlineData(40e-3, 40e-3 * 0.75, 45 * 40e-3, 1e-3)]
    public void Output_low_voltage_follows_the_square_law(double limit, double amperes, double volts, double within)
    {
        var circuit = Circuit(
            new VoltageSource("vs", "v", "0", 5),
            new Resistor("pull", "v", "r", 10e3),
            new Processor("p", "v", "0", "r", "a") { Programs = [new() { Mode = PortMode.Off }] },
            new ProcessorPort("p1", "out", "v", "0", "p", 0) { SinkResistance = 45, SinkLimit = limit },
            new CurrentSource("i", "0", "out", amperes));
        Near(volts, Solve(circuit).Voltage("out"), within);
    }

    [Fact]
    public void A_supply_that_falls_too_low_unwatched_leaves_the_outputs_as_they_were_until_it_is_gone()
    {
        // High from 10 ms on; the dip at 50 ms hangs it; the supply is gone at 150 ms and back at 200 ms.
        var supply = new PiecewiseLinearWaveform([0, 50e-3, 51e-3, 60e-3, 61e-3, 150e-3, 151e-3, 200e-3, 201e-3], [5, 5, 3, 3, 5, 5, 0, 0, 5]);
        var circuit = Circuit(
            new VoltageSource("vs", "v", "0", supply),
            new Resistor("pull", "v", "r", 10e3),
            new Processor("p", "v", "0", "r", "a") { MinimumVoltage = 4, StartUpTime = 1e-3, Programs = [new() { Mode = PortMode.Schedule, OnAt = 10e-3, OffAt = 70e-3 }] },
            new ProcessorPort("p1", "out", "v", "0", "p", 0),
            new Resistor("load", "out", "0", 1e3));
        var run = Run(circuit, new TransientOptions { Stop = 0.3 }, Probe.Voltage("out"), Probe.State("p", "running"), Probe.State("p", "reset-count"), Probe.State("p", "program-time"));
        Assert.True(run.At(40e-3) > 4.5);
        Assert.True(run.At(120e-3) > 4.5);
        Assert.Equal(0, run.At(120e-3, 1));
        Near(50.5e-3, run.At(120e-3, 3), 1e-3);
        Assert.True(run.At(190e-3) < 0.1);
        Assert.Equal(1, run.Values(2)[^1]);
        Assert.True(run.At(205e-3) < 0.1);
        Assert.True(run.At(250e-3) > 4.5);
    }

    // The input passes 60 % of 5 V at 0.25 s; the sample after that, at 0.3 s, sees it. It falls below 50 % at 0.75 s: 0.8 s.
    [Fact]
    public void Thermostat_acts_at_the_sample_that_follows()
    {
        var circuit = Running(new Processor("p", "v", "0", "r", "a") { Programs = [new() { Mode = PortMode.Thermostat }], Thermostat = new Thermostat(0.6, 0.5, 0.1) });
        circuit.Add(new VoltageSource("va", "a", "0", new PiecewiseLinearWaveform([0, 0.25, 0.5, 0.75, 1], [2, 3, 4, 2.5, 1])));
        var run = Run(circuit, new TransientOptions { Stop = 1 }, Probe.State("p", "heat"), Probe.Voltage("out"));
        Assert.Equal(0, run.At(0.299));
        Assert.Equal(1, run.At(0.301));
        Assert.Equal(1, run.At(0.799));
        Assert.Equal(0, run.At(0.801));
        Assert.True(run.At(0.5, 1) > 4.5);
    }

    [Fact]
    public void While_nothing_changes_a_processor_takes_no_steps()
    {
        // An hour of a program with two edges, thermostat at rest: what counts is the number of points.
        var circuit = Running(new Processor("p", "v", "0", "r", "a")
        {
            Programs = [new() { Mode = PortMode.Schedule, OnAt = 600, OffAt = 1800 }, new() { Mode = PortMode.Thermostat }],
            Thermostat = new Thermostat(0.6, 0.5, 0.1),
        });
        var run = Run(circuit, new TransientOptions { Stop = 3600 }, Probe.Voltage("out"));
        Assert.InRange(run.Evidence.Points, 10, 200);
    }

    [Fact]
    public void What_a_part_tells_of_itself_jumps_where_its_event_is()
    {
        var circuit = Running(new Processor("p", "v", "0", "r", "a") { Programs = [new() { Mode = PortMode.Thermostat }], Thermostat = new Thermostat(0.6, 0.5, 1) });
        circuit.Add(new VoltageSource("va", "a", "0", new PiecewiseLinearWaveform([0, 100], [2, 4])));
        var run = Run(circuit, new TransientOptions { Stop = 100 }, Probe.State("p", "heat"));
        var (times, values) = (run.Times, run.Values(0));
        var first = Array.FindIndex(values, v => v > 0);

        // 3 V at 50 s; the last sample before the jump stands at the jump.
        Assert.Equal(51, times[first], 1e-3);
        Assert.Equal(51, times[first - 1], 1e-9);
    }

    private static Circuit Supply(SourceWaveform waveform, ResetSupervisor supervisor) =>
        Circuit(new VoltageSource("vs", "v", "0", waveform), new Resistor("pull", "v", "r", 10e3), supervisor);

    private static Circuit Running(Processor processor)
    {
        processor.Programs = [.. processor.Programs];
        return Circuit(
            new VoltageSource("vs", "v", "0", 5),
            new Resistor("pull", "v", "r", 10e3),
            processor,
            new ProcessorPort("p1", "out", "v", "0", "p", processor.Programs.Count - 1),
            new Resistor("load", "out", "0", 1e3));
    }
}
