using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

public class OscilloscopeTests
{
    // Worked numbers of a probing note: 66 ohm source and 9.5 pF probe have tau 627 ps and 253.8 MHz bandwidth; the rise time rule
    // 0.35/tr gives 253.7 MHz with tr = 2.2 tau.
    [Fact]
    public void Probe_capacitance_limits_the_bandwidth_of_the_source()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 0) { SmallSignal = 1 });
        circuit.Add(new Resistor("R1", "source", "tip", 66));
        new Oscilloscope { Probe = ScopeProbe.TenToOne with { Capacitance = 9.5e-12 } }.Attach(circuit, "tip", "0", "scope");
        var gain = AcAnalysis.Run(new CircuitSystem(circuit), [253.8e6], [Probe.Voltage("tip")]).Values(0)[0].Magnitude;
        Assert.Equal(1 / Math.Sqrt(2), gain, 1e-3);
    }

    [Fact]
    public void Rise_time_of_the_screen_is_035_over_the_bandwidth()
    {
        var step = Sampled.Points((0, 0), (5e-9, 0), (5e-9, 1), (15e-9, 1));
        var shown = new Oscilloscope { Bandwidth = 253.8e6 }.Capture(step).Trace;
        Take.Near(0.35 / 253.7e6, Take.Value("rise-time", shown), 2e-3);
    }

    // HP 83480A manual, p. 434: a probe of nine times the source's resistance takes 10 % off the amplitude.
    [Fact]
    public void Probe_resistance_divides_the_signal()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 1));
        circuit.Add(new Resistor("R1", "source", "tip", 10e6 / 9));
        new Oscilloscope().Attach(circuit, "tip", "0", "scope");
        Take.Near(0.9, OperatingPoint.Solve(new CircuitSystem(circuit)).Voltage("tip"), 1e-6);
    }

    // Triangle ripple of 0.1 V pp on 320 V: without coupling it drowns, with it pp and rms (pp/(2 sqrt 3), see a table of form factors) are read.
    [Fact]
    public void Ac_coupling_shows_ripple_on_a_high_rail()
    {
        var wave = Sampled.Cycles(x => 320 + 0.05 * Sampled.Triangle(x), 65e3, 10, 100);
        var shown = new Oscilloscope { AcCoupled = true }.Capture(wave, FilterStart.Periodic);
        Take.Near(0.1, shown.PeakToPeak.Value!.Value, 2e-3);
        Take.Near(0.1 / (2 * Math.Sqrt(3)), shown.Rms.Value!.Value, 2e-3);
        Assert.Equal(0, shown.Mean.Value!.Value, 1e-6);
        Assert.Equal("65.00 kHz", shown.Frequency.Display);
        Assert.Equal("peak to peak, AC coupled", shown.PeakToPeak.Function);
        Assert.Equal(0.02, shown.PerDivision, 1e-12);
        Assert.False(shown.IsClipped);
    }

    [Fact]
    public void Trigger_puts_its_instant_at_zero_and_its_place_on_the_screen()
    {
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x), 50, 10);
        var shown = new Oscilloscope { SecondsPerDivision = 5e-3, Trigger = new ScopeTrigger(0.5, Edge.Falling, 0.2) }.Capture(wave);
        // sin = 0.5 falling is at 150 deg; the first with 10 ms before it lies in the first cycle at 8.33 ms only if less is asked, so in the second.
        Assert.Equal(0.02 * (1 + 150.0 / 360), shown.TriggerTime!.Value, 1e-7);
        Assert.Equal(-10e-3, shown.Trace.Start, 1e-9);
        Assert.Equal(40e-3, shown.Trace.End, 1e-9);
        Assert.Equal(0.5, shown.Trace.At(0), 1e-4);
        Assert.True(shown.IsTriggered);
    }

    [Fact]
    public void A_level_that_is_not_crossed_and_a_trace_off_the_screen_are_told()
    {
        var wave = Sampled.Cycles(x => 5 + 5 * Math.Sin(2 * Math.PI * x), 50, 2);
        var shown = new Oscilloscope { PerDivision = 1, Middle = 5, Trigger = new ScopeTrigger(20) }.Capture(wave);
        Assert.False(shown.IsTriggered);
        Assert.True(shown.IsClipped);
        Assert.Equal(8, shown.PeakToPeak.Value!.Value, 1e-12);
        Assert.Contains("beyond the screen", shown.PeakToPeak.Note, StringComparison.Ordinal);
        Assert.Contains("not crossed", shown.PeakToPeak.Note, StringComparison.Ordinal);
    }

    // Steps of 1, 2 and 5 per division, eight divisions (common practice, no source).
    [Theory]
    [InlineData(0, 5, 1)]
    [InlineData(-170, 170, 50)]
    [InlineData(0, 0.012, 0.002)]
    [InlineData(12, 12, 2)]
    [InlineData(319.9, 320.1, 50)]
    [InlineData(0, 0, 1)]
    public void Deflection_is_set_to_suit(double low, double high, double perDivision)
    {
        var shown = new Oscilloscope().Capture(Sampled.Points((0, low), (1, high), (2, low)));
        Take.Near(perDivision, shown.PerDivision, 1e-12);
        Assert.False(shown.IsClipped);
        Assert.True(shown.Trace.PeakToPeak() >= (high - low) * (1 - 1e-4));
    }

    [Fact]
    public void Clipping_adds_the_points_where_the_limits_are_met()
    {
        var clipped = Sampled.Points((0, -2), (1, 2), (2, 0)).Clipped(-1, 1);
        Assert.Equal([0, 0.25, 0.75, 1, 1.5, 2], clipped.Times.ToArray());
        Assert.Equal([-1, -1, 1, 1, 1, 0], clipped.Values.ToArray());
    }
}
