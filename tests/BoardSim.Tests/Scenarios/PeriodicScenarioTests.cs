using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>Scenarios whose run starts from the periodic steady state.</summary>
public class PeriodicScenarioTests
{
    private const string Aged = """
        title: Ripple of an aged supply
        block: flyback-output
        values:
          output.capacitance: 47 uF
        run:
          start: periodic
          periods: 5
        conditions:
          healthy:
          aged:
            faults:
              output-esr-high: 0.5 ohm
        observe:
          output:
            point: output
        metrics:
          ripple:
            take: ripple-peak-to-peak
            of: output
            over: last 5 switching cycles
        sweep:
          severity-of: output-esr-high
          points: [0.3 ohm, 0.5 ohm]
          record: [ripple]
        expect:
          - that: ripple of aged > ripple of healthy
            why: It is aged.
        """;

    // The same board after 200 periods of settling, which are eleven of its time constants of 12 ohm times 47 uF, halved.
    [Fact]
    public void Ripple_is_that_of_the_settled_board()
    {
        var text = Aged.Replace("start: periodic\n  periods: 5", "start: periodic\n  periods: 5\n  accuracy: 1e-4", StringComparison.Ordinal);
        var found = ScenarioRunner.Run(ScenarioFile.Parse(text, "a.yaml"));
        var settled = ScenarioRunner.Run(ScenarioFile.Parse(
            text.Replace("start: periodic\n  periods: 5", "stop: 3.1 ms\n  record-from: 3 ms", StringComparison.Ordinal), "a.yaml"));

        foreach (var condition in found.Conditions)
        {
            Assert.Equal(PeriodicOutcome.Found, condition.Periodic?.Outcome);
            Assert.Equal(0, condition.Start);
            Assert.Equal(5 / 65e3, condition.Stop, 12);
            var expected = settled.Condition(condition.Name).Value("ripple")!.Value;
            Assert.InRange(condition.Value("ripple")!.Value, expected * 0.999, expected * 1.001);
        }

        Assert.Null(settled.Condition("healthy").Periodic);
        Assert.Equal(["healthy at 300 mohm", "aged at 300 mohm", "aged at 500 mohm"], found.Sweep!.Periodic.Select(p => p.Point));
        Assert.Contains("found by search in 5 of 5 runs", Assert.Single(PeriodicText.Lines(found)), StringComparison.Ordinal);
        Assert.Empty(PeriodicText.Lines(settled));
    }

    [Theory]
    [InlineData("periods: 5", "periods: 0", "a.yaml:7:12:", "\"0\" is not a whole number from 1")]
    [InlineData("periods: 5", "stop: 1 ms", "a.yaml:7:3:", "\"stop\" means nothing here")]
    [InlineData("periods: 5", "record-from: 1 ms", "a.yaml:7:3:", "\"record-from\" means nothing here")]
    [InlineData("start: periodic", "start: switch-on", "a.yaml:7:3:", "give this one a \"stop\"")]
    [InlineData("start: periodic", "compute: operating-point", "a.yaml:7:3:", "an operating point has no time axis")]
    [InlineData("last 5 switching cycles", "last 6 switching cycles", "a.yaml:20:11:", "is recorded")]
    public void Slips_are_told(string right, string wrong, string place, string what)
    {
        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(Aged.Replace(right, wrong, StringComparison.Ordinal), "a.yaml"));
        var finding = refused.Findings.FirstOrDefault(f => f.ToString().StartsWith(place, StringComparison.Ordinal));
        Assert.True(finding is not null, $"nothing at {place}: {refused.Message}");
        Assert.Contains(what, finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Block_without_a_repeating_source_has_no_periodic_state()
    {
        var text = """
            title: A divider
            block: thermistor-input
            run:
              start: periodic
              periods: 2
            conditions:
              healthy:
            observe:
              pin:
                point: adc
            expect:
              - that: pin of healthy > 0 V
                why: It is fed.
            """;
        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text, "a.yaml"));
        Assert.Contains(refused.Findings, f => f.Line == 4 && f.Message.Contains("no source repeats", StringComparison.Ordinal));
    }

    // As many periods as the block suggests between settling and its end: twenty of a flyback.
    [Fact]
    public void Number_of_periods_follows_from_the_block()
    {
        var text = Aged.Replace("  periods: 5\n", "", StringComparison.Ordinal).Replace("last 5 switching cycles", "last 20 switching cycles", StringComparison.Ordinal);
        Assert.Null(ScenarioFile.Parse(text, "a.yaml").Run.Periods);
        Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text.Replace("last 20 switching", "last 21 switching", StringComparison.Ordinal), "a.yaml"));
    }
}
