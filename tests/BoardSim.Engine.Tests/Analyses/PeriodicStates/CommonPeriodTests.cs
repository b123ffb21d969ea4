using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.PeriodicStates;

/// <summary>The period in which all sources of a circuit repeat: arithmetic of least common multiples.</summary>
public sealed class CommonPeriodTests
{
    // 60 Hz and 50 Hz meet every 0.1 s; 1 kHz and 1.5 kHz every 2 ms.
    [Theory]
    [InlineData(60, 50, 0.1)]
    [InlineData(1000, 1500, 2e-3)]
    [InlineData(50, 100, 0.02)]
    public void Sources_meet_at_the_least_common_multiple(double first, double second, double seconds)
    {
        var circuit = Circuit(Sine("a", first), Sine("b", second), new VoltageSource("dc", "c", "0", 5));
        var period = CommonPeriod.Of(circuit, out var problem);
        Assert.Null(problem);
        Assert.NotNull(period);
        Near(seconds, period.Value, 1e-9);
    }

    [Fact]
    public void Pulse_after_a_delay_and_a_finished_polygon_repeat()
    {
        var circuit = Circuit(
            new VoltageSource("p", "a", "0", new PulseWaveform { High = 1, Delay = 3e-3, Rise = 1e-6, Fall = 1e-6, Width = 1e-4, Period = 1e-3 }),
            new VoltageSource("q", "b", "0", new PiecewiseLinearWaveform([0, 5e-3], [0, 1])));
        Assert.Equal(1e-3, CommonPeriod.Of(circuit, out _));
    }

    [Theory]
    [InlineData("nothing", "no source repeats")]
    [InlineData("decay", "d neither repeats nor stays constant")]
    [InlineData("strangers", "share no period")]
    public void Sources_without_a_common_period_are_told(string which, string expected)
    {
        var circuit = which switch
        {
            "nothing" => Circuit(new VoltageSource("dc", "a", "0", 5)),
            "decay" => Circuit(new VoltageSource("d", "a", "0", new ExponentialWaveform { Pulsed = 1, RiseTime = 1e-3, FallDelay = 1e-3, FallTime = 1e-3 })),
            _ => Circuit(Sine("a", 50), Sine("b", 50 * Math.Sqrt(2))),
        };
        Assert.Null(CommonPeriod.Of(circuit, out var problem));
        Assert.Contains(expected, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Period_that_does_not_fit_a_source_is_refused()
    {
        var system = new CircuitSystem(Circuit(Sine("a", 60), new Resistor("r", "a", "0", 1)));
        var error = Assert.Throws<CircuitException>(() => PeriodicSteadyState.Run(system, new PeriodicOptions { Period = 0.02 }, []));
        Assert.Contains("A period of 0.02 s is no whole number of periods of a", error.Message, StringComparison.Ordinal);
    }

    private static VoltageSource Sine(string name, double hertz) => new(name, name, "0", new SineWaveform { Amplitude = 1, Frequency = hertz });
}
