using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>Instruments as scenario files ask for them.</summary>
public class InstrumentScenarioTests
{
    private const string Divider = """
        title: Divider
        block: thermistor-input
        values:
          sensor.r25: 10 kohm
          sensor.beta: 3950 K
          sensor.dissipation: 1 W/K
          divider.resistance: 10 kohm
          supply.voltage: 5 V
        run:
          compute: operating-point
          power: off
        conditions:
          healthy:
        observe:
          it:
            point: divider
            instrument: ohmmeter
        expect:
          - {that: it of healthy has a value, why: sample}
        """;

    private const string Pulses = """
        title: Pulses
        block: processor
        values:
          out1.mode: pwm
          out1.period: 1 ms
          out1.duty: 0.25
          load.resistance: 10 kohm
        run:
          stop: 110 ms
          record-from: 100 ms
        conditions:
          healthy:
        observe:
          it:
            point: out1
            instrument: frequency-meter
          drawn:
            point: out1
        expect:
          - {that: it of healthy has a value, why: sample}
        """;

    private const string Line = """
        title: Line
        block: bridge-bulk
        values: {load: resistor, load.resistance: 500 ohm}
        run:
          stop: 100 ms
        conditions:
          healthy:
        observe:
          it:
            current: load
            instrument: dc-ammeter
          drawn:
            current: load
        expect:
          - {that: it of healthy has a value, why: sample}
        """;

    // Divider of two equal resistors and a meter of 3 kohm: 5 V (10 k || 3 k) / (10 k + 10 k || 3 k) = 0.9375 V while its lead is on, half of 5 V before and after (Ohm's law).
    [Fact]
    public void A_lead_that_is_taken_off_loads_no_more()
    {
        var text = Divider.Replace("compute: operating-point\n  power: off", "stop: 0.2 s", StringComparison.Ordinal)
            .Replace("    instrument: ohmmeter", "    instrument: low-impedance-dc-voltmeter\n    settings: {connect-at: 50 ms, disconnect-at: 100 ms}\n    over: 90 ms to 99 ms\n  alone:\n    point: divider\n    instrument: none", StringComparison.Ordinal);
        var condition = Run(text).Conditions[0];
        Assert.Equal(0.9375, condition.Readings.Single().Value, 0.005);
        var alone = condition.Waveform("alone")!;
        Assert.Equal(2.5, alone.Values[alone.Times.ToArray().TakeWhile(t => t < 49e-3).Count()], 0.005);
        Assert.Equal(2.5, alone.Values[^1], 0.005);
    }

    // Without power and with the supply's lead open, the sensor of 10 kohm at 25 degC (IEC 60539-1) is all that lies between divider and ground.
    [Fact]
    public void Ohms_on_an_unplugged_board_show_the_part_in_place()
    {
        var reading = Reading(Divider);
        Assert.Equal("ohm", reading.Unit);
        Assert.Equal(10e3, reading.Value, 30.0);
        Assert.Equal("multimeter, ohms", reading.Signal.Instrument);
    }

    [Fact]
    public void With_power_on_the_ohmmeter_refuses()
    {
        var reading = Reading(Divider.Replace("  power: off\n", "", StringComparison.Ordinal));
        Assert.True(double.IsNaN(reading.Value));
        Assert.Equal("----", reading.Display);
        Assert.Contains("2.5", reading.Note, StringComparison.Ordinal);
    }

    // Several testers at rest are put on one after the other, so none sees another's current: both read the same 10 kohm.
    [Fact]
    public void Testers_at_rest_do_not_see_one_another()
    {
        var text = Divider.Replace("expect:", "  second:\n    point: divider\n    instrument: ohmmeter\nexpect:", StringComparison.Ordinal);
        var readings = Run(text).Conditions[0].Readings;
        Assert.Equal(2, readings.Count);
        Assert.Equal(readings[0].Value, readings[1].Value);
    }

    [Fact]
    public void Frequency_is_a_reading_in_hertz_of_a_waveform_in_volts()
    {
        var healthy = Run(Pulses).Conditions[0];
        var reading = healthy.Readings.Single();
        Assert.Equal("Hz", reading.Unit);
        Assert.Equal(1000, reading.Value, 1.0);
        Assert.Equal("V", reading.Signal.Unit);
        var duty = Reading(Pulses.Replace("frequency-meter", "duty-meter", StringComparison.Ordinal));
        Assert.Equal("%", duty.Unit);
        Assert.Equal(25, duty.Value, 0.3);
        Assert.Equal("25.0 %", duty.Display);
    }

    // A threshold above the pulses of less than 5 V.
    [Fact]
    public void Settings_reach_the_instrument()
    {
        var text = Pulses.Replace("instrument: frequency-meter", "instrument: frequency-meter\n    settings: {threshold: 6 V, counts: 60000}", StringComparison.Ordinal);
        Assert.Equal(0, Reading(text).Value);
        Assert.Equal("1.0000 kHz", Reading(text.Replace("6 V", "2 V", StringComparison.Ordinal)).Display);
    }

    // The trigger's instant is a reading; its edge is where the pulse rises, once a millisecond.
    [Fact]
    public void A_trigger_cuts_the_trace_to_a_screen()
    {
        var text = Pulses.Replace("instrument: frequency-meter", "instrument: oscilloscope\n    settings: {trigger: 2 V, time-base: 200 us, position: 0.1}", StringComparison.Ordinal);
        var healthy = Run(text).Conditions[0];
        var trace = healthy.Waveform("it")!;
        Assert.Equal(2e-3, trace.Times[^1] - trace.Times[0], 1e-9);
        Assert.Equal("s", healthy.Readings.Single().Unit);
        Assert.Equal(trace.Times[0] + 0.2e-3, healthy.Readings.Single().Value, 1e-6);
        Assert.True(double.IsNaN(Reading(text.Replace("trigger: 2 V", "trigger: 7 V", StringComparison.Ordinal)).Value));
    }

    // 5 ohm in series with 500 ohm on a capacitor that holds its voltage: the current is 500/505 of what it was, within what the ripple of the capacitor changes by that.
    [Fact]
    public void An_ammeter_lies_in_series()
    {
        var without = Run(Line.Replace("instrument: dc-ammeter", "instrument: dc-ammeter\n    settings: {burden: 1 uohm}", StringComparison.Ordinal)).Conditions[0].Waveform("drawn")!.Values[^1];
        var result = Run(Line.Replace("instrument: dc-ammeter", "instrument: dc-ammeter\n    settings: {burden: 5 ohm}", StringComparison.Ordinal)).Conditions[0];
        Assert.Equal(500.0 / 505, result.Waveform("drawn")!.Values[^1] / without, 2e-3);
        Assert.Equal("A", result.Readings.Single().Unit);
    }

    [Theory]
    [InlineData("instrument: ohmmeter", "instrument: ohmmeter\n    settings: {treshold: 1 V}", "did you mean threshold?")]
    [InlineData("instrument: ohmmeter", "instrument: ohmmeter\n    settings: {threshold: 1 V}", "this instrument has no threshold; it is a setting of frequency-meter, duty-meter")]
    [InlineData("instrument: ohmmeter", "instrument: ohmmeter\n    settings: {connect-at: 1 s}", "no time axis")]
    [InlineData("instrument: ohmmeter", "instrument: ohmmeter\n    settings: {test-voltage: 1 A}", "voltage")]
    [InlineData("instrument: ohmmeter", "instrument: frequency-meter", "nothing alternates")]
    [InlineData("instrument: ohmmeter", "instrument: ac-clamp", "measure a current")]
    [InlineData("instrument: ohmmeter", "instrument: differential-probe", "has no protective earth")]
    [InlineData("instrument: ohmmeter", "instrument: oscilloscope\n    settings: {clip: earthed}", "has no protective earth")]
    [InlineData("instrument: ohmmeter", "instrument: oscilloscope\n    settings: {clip-resistance: 1 ohm}", "clip: earthed")]
    [InlineData("instrument: ohmmeter", "instrument: oscilloscope\n    settings: {slope: falling}", "belongs to a trigger")]
    [InlineData("instrument: ohmmeter", "instrument: oscilloscope\n    settings: {probe: 1x, tip-capacitance: 9 pF}", "no trimmer")]
    [InlineData("block: thermistor-input", "block: heated-chamber", "names no leads of its supply")]
    public void Wrong_uses_at_rest_are_told(string right, string wrong, string message) => Told(Divider, right, wrong, message);

    [Theory]
    [InlineData("instrument: frequency-meter", "instrument: esr-meter", "measures at rest")]
    [InlineData("instrument: frequency-meter", "instrument: oscilloscope\n    settings: {trigger: 1 V}", "time-base")]
    [InlineData("instrument: frequency-meter", "instrument: oscilloscope\n    settings: {connect-at: 1 ms}", "earthed clip")]
    [InlineData("instrument: frequency-meter", "instrument: dc-voltmeter\n    settings: {disconnect-at: 1 ms}", "was put on before")]
    [InlineData("instrument: frequency-meter", "instrument: dc-voltmeter\n    settings: {connect-at: 2 ms, disconnect-at: 1 ms}", "disconnect later")]
    [InlineData("instrument: frequency-meter", "instrument: oscilloscope\n    settings: {connect-at: 1 ms, disconnect-at: 2 ms}", "no disconnect-at")]
    [InlineData("instrument: frequency-meter", "instrument: ohmmeter\n    settings: {connect-at: 1 s}", "the run has ended by then")]
    [InlineData("    point: out1\n    instrument: frequency-meter", "    current: out1\n    instrument: dc-voltmeter", "with a clamp or with an ammeter")]
    [InlineData("    instrument: frequency-meter", "    instrument: ohmmeter\n  second:\n    point: out1\n    instrument: diode-test", "second instrument that drives a current")]
    public void Wrong_uses_over_time_are_told(string right, string wrong, string message) => Told(Pulses, right, wrong, message);

    private static void Told(string text, string right, string wrong, string message)
    {
        Assert.Contains(right, text, StringComparison.Ordinal);
        var error = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text.Replace(right, wrong, StringComparison.Ordinal), "a.yaml"));
        Assert.Contains(error.Findings, f => f.ToString().Contains(message, StringComparison.Ordinal));
    }

    private static ScenarioResult Run(string text) => ScenarioRunner.Run(ScenarioFile.Parse(text, "sample.yaml"), new RunOptions { MaxParallel = 1 });

    private static Reading Reading(string text) => Run(text).Conditions[0].Readings[0];
}
