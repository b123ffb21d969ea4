using System.Text.Json;
using BoardSim.Quantities;
using BoardSim.Scenarios;
using BoardSim.Scenarios.Schema;
using Json.Schema;

namespace BoardSim.Tests.Scenarios;

public class ScenarioSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(ScenarioSchema.ToJson());

    public static TheoryData<string> Files => ScenarioFilesTests.Files;

    [Fact]
    public void The_schema_is_a_schema()
    {
        using var text = JsonDocument.Parse(ScenarioSchema.ToJson());

        // The meta-schema of draft 2020-12 judges it.
        Assert.True(MetaSchemas.Draft202012.Evaluate(text.RootElement).IsValid);
        Assert.Equal("https://json-schema.org/draft/2020-12/schema", text.RootElement.GetProperty("$schema").GetString());
    }

    [Fact]
    public void The_committed_schema_is_current()
    {
        var committed = File.ReadAllText(Path.Combine(Repository.Scenarios, "scenario.schema.json"));

        Assert.True(
            committed.ReplaceLineEndings("\n") == ScenarioSchema.ToJson(),
            "scenarios/scenario.schema.json is out of date; write it anew with the schema command of the command line.");
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Every_scenario_of_the_repository_fits(string file) =>
        Assert.Equal("", Misfits(File.ReadAllText(Path.Combine(Repository.Scenarios, file))));

    [Fact]
    public void The_samples_fit()
    {
        Assert.Equal("", Misfits(Samples.Complete));
        Assert.Equal("", Misfits(Samples.Thermistor));
        Assert.Equal("", Misfits(Samples.Rectifier));
    }

    [Theory]
    [InlineData("load.resistance: 6 ohm", "load.resistence: 6 ohm")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6 V")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: six ohm")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6,5 ohm")]
    [InlineData("output.capacitors: one", "output.capacitors: three")]
    [InlineData("block: flyback-output", "block: flyback")]
    [InlineData("stop: 4 ms", "stop: 4")]
    [InlineData("stop: 4 ms", "stop: 4 mV")]
    [InlineData("compute: waveforms", "compute: waves")]
    [InlineData("output-esr-high: 0.5 ohm", "output-esr: 0.5 ohm")]
    [InlineData("output-esr-high: 0.5 ohm", "output-esr-high: 0.5 F")]
    [InlineData("output-capacitor-open: present", "output-capacitor-open: 5 ohm")]
    [InlineData("point: output\n    instrument: oscilloscope", "point: bulk\n    instrument: oscilloscope")]
    [InlineData("instrument: oscilloscope", "instrument: scope")]
    [InlineData("current: output-capacitor", "current: coil")]
    [InlineData("take: rms", "take: root-mean-square")]
    [InlineData("over: 3.5 ms to 4 ms", "over: sometime")]
    [InlineData("severity-of: output-esr-high", "severity-of: clamp-open")]
    [InlineData("count: 4", "count: 1")]
    [InlineData("why: More resistance, more voltage across it.", "because: More resistance, more voltage across it.")]
    [InlineData("kind: bars", "kind: pie")]
    [InlineData("title: Output ripple of a dried-out capacitor\n", "")]
    public void Slips_do_not_fit(string right, string wrong)
    {
        Assert.Contains(right, Samples.Complete, StringComparison.Ordinal);
        var at = Samples.Complete.IndexOf(right, StringComparison.Ordinal);

        Assert.NotEqual("", Misfits(Samples.Complete[..at] + wrong + Samples.Complete[(at + right.Length)..]));
    }

    /// <summary>What the reader of quantities reads, the pattern lets through, and what it refuses for its form the pattern refuses.</summary>
    [Theory]
    [InlineData("ohm", "4k7", "4.7 kohm", "4,7 kohm")]
    [InlineData("ohm", "R47", "0.47 Ω", "0.47")]
    [InlineData("F", "470 uF", "470 µF", "470 ohm")]
    [InlineData("F", "4n7", "4.7e-9 F", "4.7 nf")]
    [InlineData("degC", "-40 degC", "25 °C", "25")]
    [InlineData("V", "3V3", "-12.5 mV", "12 volt s")]
    [InlineData("%", "10 %", "10 percent", "10")]
    [InlineData("V/s", "0.5 V/us", "0.5 V/µs", "0.5 V")]
    [InlineData("s", "20 ms", "1.5 min", "20 m s")]
    public void Patterns_agree_with_the_reader_of_quantities(string symbol, string one, string other, string wrong)
    {
        var unit = Unit.Find(symbol)!;
        var pattern = QuantityPattern.Of(unit);

        foreach (var text in new[] { one, other, wrong })
        {
            Assert.Equal(Quantity.TryParse(text, unit, out _, out _), System.Text.RegularExpressions.Regex.IsMatch(text, pattern));
        }

        Assert.Matches(pattern, one);
        Assert.DoesNotMatch(pattern, wrong);
    }

    private static string Misfits(string yaml)
    {
        var results = Schema.Evaluate(PlainJson.Of(yaml), new EvaluationOptions { OutputFormat = OutputFormat.List });
        return results.IsValid ? "" : string.Join('\n', results.Details.Where(d => d.HasErrors).Select(d => $"{d.InstanceLocation}: {string.Join("; ", d.Errors!.Values)}")) + "\n(does not fit)";
    }
}
