using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>Where the line is computed by its RMS value, an instrument on it would see a direct voltage: refused rather than shown.</summary>
public class RmsInstrumentTests
{
    private static string Text(string observation, string detail) => $$"""
        title: Heater
        block: heater
        values: {line.detail: {{detail}} }
        run: {stop: 100 ms}
        conditions: {healthy: {label: All in order} }
        observe:
          other: {current: element, instrument: none}
          seen: { {{observation}} }
        metrics:
          level: {take: mean, of: other}
        expect:
          - that: level of healthy > 0 A
            why: It is on.
        """;

    [Theory]
    [InlineData("point: element, instrument: ac-voltmeter-true-rms")]
    [InlineData("point: element, instrument: dc-voltmeter")]
    [InlineData("point: element")]
    [InlineData("current: element, instrument: ac-clamp-meter-true-rms")]
    public void An_instrument_on_the_line_is_refused(string observation)
    {
        var wrong = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(Text(observation, "rms"), "rms.yaml"));
        Assert.Contains("RMS value", wrong.Message, StringComparison.Ordinal);
        ScenarioFile.Parse(Text(observation, "waveform"), "waveform.yaml");
    }

    [Fact]
    public void The_computed_value_is_not() => ScenarioFile.Parse(Text("point: element, instrument: none", "rms"), "rms.yaml");
}
