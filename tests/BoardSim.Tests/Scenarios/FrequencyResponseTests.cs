using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>Scenarios with a frequency response: what comes out, and what is refused.</summary>
public class FrequencyResponseTests
{
    private const string Text = """
        title: Filter
        block: line-entry
        values: {noise.kind: differential-mode, load.resistance: 1 Mohm}
        run:
          compute: frequency-response
          from-frequency: 1 MHz
          to-frequency: 10 MHz
        conditions:
          healthy: {}
        observe:
          loss: {label: Insertion loss, point: receiver-without-filter, per-point: receiver}
          angle: {label: Phase, point: receiver-without-filter, per-point: receiver, show: phase}
          volts: {label: Receiver, point: receiver}
        metrics:
          slope-end: {label: End, take: response-highest, of: loss}
          level: {label: Volts, take: response-lowest, of: volts}
        expect:
          - that: slope-end of healthy > 20 dB
            why: It filters.
        figures:
          loss: {kind: response, title: Loss, show: [loss, angle]}
        """;

    [Fact]
    public void Level_phase_and_magnitude_belong_together()
    {
        var result = ScenarioRunner.Run(ScenarioFile.Parse(Text, "a.yaml"));
        var condition = Assert.Single(result.Conditions);
        var (loss, volts) = (condition.Waveform("loss")!, condition.Waveform("volts")!);
        Assert.Equal(["dB", "deg", "V"], result.Signals.Select(s => s.Unit));
        Assert.Equal(51, loss.Times.Length);
        Assert.Equal(1e6, loss.Times[0]);
        Assert.Equal(1e7, loss.Times[^1], 1e7 * 1e-12);

        // Without a filter the receiver of one line sees half of what the network's two times 50 ohm get of 1 V behind 50 ohm: about a third of a volt, so
        // the loss and the volts that come through tell the same.
        var without = volts.Values[^1] * Math.Pow(10, loss.Values[^1] / 20);
        Assert.Equal(1.0 / 3, without, 0.005);
        Assert.Equal(condition.Metrics[0].Value, loss.Values.Max());
        Assert.Empty(condition.Readings);
        Assert.All(result.Expectations, e => Assert.True(e.Holds));
    }

    [Theory]
    [InlineData("to-frequency: 10 MHz", "to-frequency: 1 kHz", "has to be the higher one")]
    [InlineData("to-frequency: 10 MHz", "to-frequency: 10 MHz\n  stop: 1 ms", "a frequency response has no time axis")]
    [InlineData("compute: frequency-response", "compute: waveforms", "belongs to \"compute: frequency-response\"")]
    [InlineData("take: response-highest", "take: maximum", "is taken over time")]
    [InlineData("kind: response", "kind: waveforms", "draw a response")]
    [InlineData("{label: Receiver, point: receiver}", "{label: Receiver, point: receiver, show: level}", "a level is that of a plain ratio")]
    [InlineData("{label: Receiver, point: receiver}", "{label: Receiver, state: fuse-open}", "a state has no frequency response")]
    [InlineData("{label: Receiver, point: receiver}", "{label: Receiver, point: receiver, instrument: dc-voltmeter}", "no instrument connected")]
    [InlineData("{label: Receiver, point: receiver}", "{label: Receiver, point: receiver, per-point: input}", "is not a test point")]
    public void What_means_nothing_is_refused(string text, string wrong, string message)
    {
        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(Text.Replace(text, wrong, StringComparison.Ordinal), "a.yaml"));
        Assert.Contains(message, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bench_without_a_small_signal_says_what_to_set()
    {
        var silent = Text.Replace("noise.kind: differential-mode, ", "", StringComparison.Ordinal).Replace("receiver-without-filter, per-point: receiver", "inlet, per-point: fused", StringComparison.Ordinal)
            .Replace("point: receiver}", "point: fused}", StringComparison.Ordinal);
        var refused = Assert.Throws<ScenarioRunException>(() => ScenarioRunner.Run(ScenarioFile.Parse(silent, "a.yaml")));
        Assert.Contains("no small-signal source that is on", refused.Message, StringComparison.Ordinal);
    }
}
