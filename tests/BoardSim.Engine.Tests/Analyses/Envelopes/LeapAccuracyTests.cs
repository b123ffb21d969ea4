using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.Envelopes;

/// <summary>
/// Runs that leap against closed forms: three times the accuracy asked, relative to the peak, at instants of computed and of
/// interpolated periods alike.
/// </summary>
public sealed class LeapAccuracyTests
{
    private const double Stop = 20e-3;

    [Theory]
    [InlineData(1e-1)]
    [InlineData(1e-2)]
    [InlineData(2e-3)]
    [InlineData(1e-3)]
    [InlineData(1e-4)]
    public void Charging_in_two_thousand_pulses_keeps_the_accuracy_in_a_few_periods(double accuracy)
    {
        var filter = new PulsedFilter();
        var result = Run(filter.Build(), Options(accuracy), Probe.Voltage("a"));
        AssertAlong(result, 0, filter, accuracy);
        Assert.InRange(result.Evidence.PeriodsComputed, 10, 400);
        Assert.True(result.Evidence.PeriodsInterpolated > 1600);
    }

    [Fact]
    public void A_fast_and_a_slow_filter_on_one_source_are_both_right()
    {
        var (fast, slow) = (new PulsedFilter { Farads = 0.1e-6 }, new PulsedFilter { Farads = 3e-6 });
        var circuit = fast.Build();
        circuit.Add(new Resistor("r2", "in", "b", PulsedFilter.Ohms));
        circuit.Add(new Capacitor("c2", "b", "0", slow.Farads) { InitialVoltage = 0 });
        var result = Run(circuit, Options(1e-3), Probe.Voltage("a"), Probe.Voltage("b"));
        AssertAlong(result, 0, fast, 1e-3);
        AssertAlong(result, 1, slow, 1e-3);
        Assert.InRange(result.Evidence.PeriodsComputed, 10, 400);
    }

    // Kirchhoff's law and the balance of power are those of the periods that were computed.
    [Fact]
    public void Evidence_counts_periods_and_keeps_its_balance()
    {
        var e = Run(new PulsedFilter().Build(), Options(1e-3), Probe.Voltage("a")).Evidence;
        Assert.True(e.PeriodsComputed + e.PeriodsInterpolated >= 1999);
        Assert.True(e.PowerBalance < 1e-2);
    }

    [Fact]
    public void Samples_rise_in_time_and_the_source_keeps_its_edges()
    {
        var filter = new PulsedFilter();
        var result = Run(filter.Build(), Options(1e-3), Probe.Voltage("in"));
        Assert.All(result.Times.Zip(result.Times.Skip(1)), pair => Assert.True(pair.First <= pair.Second));
        for (var k = 0; k < 4000; k++)
        {
            var t = Stop * (k + 0.37) / 4000;
            Assert.Equal(filter.Pulse.Value(t), result.At(t), 12e-3);
        }
    }

    [Fact]
    public void Recording_from_a_later_instant_leaves_the_rest_as_it_is()
    {
        var filter = new PulsedFilter();
        var result = Run(filter.Build(), Options(1e-3) with { Start = 12.345e-3 }, Probe.Voltage("a"));
        Assert.Equal(12.345e-3, result.Times[0]);
        Assert.Equal(filter.Exact(12.345e-3), result.Values(0)[0], 3e-3 * 12);
        Assert.Equal(filter.Exact(15e-3), result.At(15e-3), 3e-3 * 12);
    }

    [Fact]
    public void Same_input_gives_the_same_samples()
    {
        var (a, b) = (Run(new PulsedFilter().Build(), Options(1e-3), Probe.Voltage("a")), Run(new PulsedFilter().Build(), Options(1e-3), Probe.Voltage("a")));
        Assert.Equal(a.Times, b.Times);
        Assert.Equal(a.Values(0), b.Values(0));
    }

    // On at 5.5 V the switch halves source and resistance seen by the capacitor; the instant follows from the closed form before it.
    [Fact]
    public void A_load_that_is_switched_on_at_a_threshold_is_switched_on_in_time()
    {
        const double accuracy = 1e-4;
        var filter = new PulsedFilter();
        filter.Pulse.Width = 9e-6;
        var circuit = filter.Build();
        var model = new SwitchModel { Threshold = 5, Hysteresis = 0.5, OnResistance = 1, OffResistance = 1e9 };
        circuit.Add(new VoltageSwitch("s", "a", "b", "a", "0", model));
        circuit.Add(new Resistor("rl", "b", "0", 999));
        var result = Run(circuit, Options(accuracy), Probe.Voltage("a"));
        var on = Assert.Single(result.Events);
        Assert.Equal("on", on.State);
        var (low, high) = (0.0, Stop);
        while (high - low > 1e-12)
        {
            var middle = (low + high) / 2;
            (low, high) = filter.Exact(middle) < 5.5 ? (middle, high) : (low, middle);
        }

        // The voltage rises by about 5 V in a millisecond there.
        Assert.Equal(low, on.Time, 3 * accuracy * 12 / 5e3);
        foreach (var t in new[] { 1.5e-3, 3e-3, 10e-3, 19.99e-3 })
        {
            Assert.Equal(filter.Exact(t, low, 5.5, 500 * filter.Farads, 0.5), result.At(t), 3 * accuracy * 12 + 2e-6);
        }

        Assert.True(result.Evidence.PeriodsInterpolated > 1000);
    }

    // A single pulse of another source in mid-run: leaps end before it and begin again after it.
    [Fact]
    public void A_step_of_another_source_in_mid_run_is_honoured()
    {
        var filter = new PulsedFilter();
        var circuit = filter.Build();
        circuit.Add(new CurrentSource("i", "a", "0", new PulseWaveform { High = 2e-3, Delay = 10.003e-3, Rise = 1e-9, Fall = 1e-9 }));
        var result = Run(circuit, Options(1e-3), Probe.Voltage("a"));
        foreach (var t in new[] { 5e-3, 9.99e-3, 10.2e-3, 12e-3, 19e-3 })
        {
            // By superposition: 2 V less, approached with the filter's time constant.
            var load = t > 10.003e-3 ? -2 * (1 - Math.Exp(-(t - 10.003e-3) / 1e-3)) : 0;
            Assert.Equal(filter.Exact(t) + load, result.At(t), 3e-3 * 12);
        }

        Assert.True(result.Evidence.PeriodsInterpolated > 1000);
    }

    private static TransientOptions Options(double accuracy) => new() { Stop = Stop, Accuracy = accuracy, UseInitialConditions = true, Leaps = true };

    private static void AssertAlong(TransientResult result, int probe, PulsedFilter filter, double accuracy)
    {
        for (var k = 1; k < 500; k++)
        {
            var t = Stop * (k + 0.123) / 500;
            Assert.Equal(filter.Exact(t), result.At(t, probe), 3 * accuracy * 12);
        }
    }
}
