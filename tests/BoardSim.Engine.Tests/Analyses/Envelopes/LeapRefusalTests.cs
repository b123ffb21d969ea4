using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.Envelopes;

/// <summary>Where leaps would be wrong, none is made.</summary>
public sealed class LeapRefusalTests
{
    [Fact]
    public void Without_being_asked_nothing_is_leapt_over()
    {
        var result = Run(new PulsedFilter().Build(), new TransientOptions { Stop = 2e-3, UseInitialConditions = true }, Probe.Voltage("a"));
        Assert.Equal((0, 0), (result.Evidence.PeriodsComputed, result.Evidence.PeriodsInterpolated));
    }

    [Fact]
    public void Pulled_by_hand_a_run_takes_every_step()
    {
        using var run = new TransientRun(new CircuitSystem(new PulsedFilter().Build()), Options(1e-3));
        while (run.Advance())
        {
            Assert.True(run.Time - run.PreviousTime < 10e-6);
        }
    }

    [Fact]
    public void Short_runs_are_computed_whole() => AssertPlain(new PulsedFilter().Build(), 0.39e-3);

    [Fact]
    public void A_sine_beside_the_pulses_forbids_leaps() =>
        AssertPlain(With(new VoltageSource("vs", "s", "0", new SineWaveform { Amplitude = 1, Frequency = 1e3 }), new Resistor("rs", "s", "a", 1e4)), 4e-3);

    [Fact]
    public void Pulses_of_another_period_forbid_leaps() =>
        AssertPlain(
            With(new VoltageSource("vs", "s", "0", new PulseWaveform { High = 1, Rise = 1e-7, Fall = 1e-7, Width = 3e-6, Period = 11e-6 }), new Resistor("rs", "s", "a", 1e4)),
            4e-3);

    [Fact]
    public void A_ramp_forbids_leaps_as_long_as_it_lasts()
    {
        var circuit = With(new VoltageSource("vs", "s", "0", new PiecewiseLinearWaveform([0, 4e-3], [0, 1])), new Resistor("rs", "s", "a", 1e4));
        AssertPlain(circuit, 3.9e-3);
        Assert.True(Run(circuit, Options(10e-3), Probe.Voltage("a")).Evidence.PeriodsInterpolated is > 200 and < 600);
    }

    // A lossless tank that swings once in 6.3 periods is no smooth function of the period's number: cos(t / sqrt(L C)) all along.
    [Fact]
    public void A_swing_of_a_few_periods_is_computed_whole()
    {
        const double cycle = 63e-6;
        var henries = cycle * cycle / (4 * Math.PI * Math.PI * 1e-6);
        var circuit = With(new Capacitor("ct", "t", "0", 1e-6) { InitialVoltage = 10 }, new Inductor("lt", "t", "0", henries));
        var result = Run(circuit, Options(2e-3) with { Accuracy = 1e-4 }, Probe.Voltage("t"));
        Assert.Equal(0, result.Evidence.PeriodsInterpolated);
        Assert.Equal(10 * Math.Cos(2 * Math.PI * 1.9e-3 / cycle), result.At(1.9e-3), 0.05);
    }

    [Theory]
    [InlineData(0.5e-3, 0, 1e-3)]
    [InlineData(1.5e-3, 10e-6, double.PositiveInfinity)]
    public void Pulses_tell_how_they_repeat(double time, double period, double until)
    {
        var pulse = new PulseWaveform { High = 1, Delay = 1e-3, Rise = 1e-7, Fall = 1e-7, Width = 3e-6, Period = 10e-6 };
        Assert.Equal(new Repetition(period, until), pulse.RepetitionAt(time));
    }

    [Theory]
    [InlineData(0.5, 0, 1)]
    [InlineData(1.5, double.PositiveInfinity, 0)]
    [InlineData(2.5, 0, 3)]
    [InlineData(3.5, double.PositiveInfinity, 0)]
    [InlineData(5, 0, double.PositiveInfinity)]
    public void Straight_lines_tell_where_they_are_level(double time, double period, double until) =>
        Assert.Equal(new Repetition(period, until), new PiecewiseLinearWaveform([1, 2, 3, 4], [0, 1, 1, 2]).RepetitionAt(time));

    private static TransientOptions Options(double stop) => new() { Stop = stop, UseInitialConditions = true, Leaps = true };

    private static Circuit With(params Device[] more)
    {
        var circuit = new PulsedFilter().Build();
        foreach (var device in more)
        {
            circuit.Add(device);
        }

        return circuit;
    }

    private static void AssertPlain(Circuit circuit, double stop)
    {
        var plain = Run(circuit, Options(stop) with { Leaps = false }, Probe.Voltage("a"));
        var asked = Run(circuit, Options(stop), Probe.Voltage("a"));
        Assert.Equal(0, asked.Evidence.PeriodsInterpolated);
        Assert.Equal(plain.Times, asked.Times);
        Assert.Equal(plain.Values(0), asked.Values(0));
    }
}
