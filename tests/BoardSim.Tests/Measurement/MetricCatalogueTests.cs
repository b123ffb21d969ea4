using System.Text.RegularExpressions;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public partial class MetricCatalogueTests
{
    [Fact]
    public void Names_are_unique_and_in_one_style_and_every_metric_is_explained()
    {
        Assert.Equal(Metrics.All.Count, Metrics.All.Select(metric => metric.Id).Distinct().Count());
        Assert.All(Metrics.All, metric =>
        {
            Assert.Matches(Style(), metric.Id);
            Assert.EndsWith(".", metric.Definition, StringComparison.Ordinal);
            Assert.Same(metric, Metrics.Find(metric.Id));
            Assert.All(metric.Parameters, parameter => Assert.Matches(Style(), parameter.Key));
            Assert.All(metric.Parameters, parameter => Assert.EndsWith(".", parameter.Description, StringComparison.Ordinal));
            Assert.All(metric.Parameters.Where(p => p.Source == ParameterSource.Default), p => Assert.Null(p.Problem(p.Default)));
        });
        Assert.Null(Metrics.Find("no-such-metric"));
        Assert.Contains("ripple-peak-to-peak", Assert.Throws<KeyNotFoundException>(() => Metrics.Get("no-such-metric")).Message, StringComparison.Ordinal);
    }

    public static TheoryData<string> Ids => [.. Metrics.All.Select(metric => metric.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_single_sample_gives_a_finite_value_or_a_reason(string id)
    {
        var metric = Metrics.Get(id);
        var parameters = metric.Parameters
            .Where(parameter => parameter.Source is ParameterSource.Required or ParameterSource.LineFrequency or ParameterSource.SwitchingFrequency)
            .ToDictionary(parameter => parameter.Key, parameter => parameter.Unit == Unit.Hertz ? 50.0 : 0.0);
        var wave = new Waveform("point", metric.Of ?? Unit.Volt, [0.0], [1.0]);
        var second = new Waveform("other", Unit.Ampere, [0.0], [1.0]);
        var result = metric.Evaluate(new MetricInput { Wave = wave, Second = second, Parameters = parameters });
        Assert.True(result.HasValue ? double.IsFinite(result.Value) : result.Reason.Length > 10, result.Reason);
    }

    [Fact]
    public void A_value_that_is_not_finite_becomes_a_reason()
    {
        Assert.False(MetricResult.Of(double.NaN).HasValue);
        Assert.Equal("why", Assert.Throws<InvalidOperationException>(() => MetricResult.None("why").Value).Message);
        Assert.Equal("why", MetricResult.None("why").Then(v => v + 1).Reason);
        Assert.Equal(3, MetricResult.Of(2).Then(v => v + 1).Value);
    }

    [Fact]
    public void Indicated_temperature_asks_the_boards_table()
    {
        var wave = Sampled.Points((0, 2.4), (1, 2.6));
        var input = new MetricInput { Wave = wave, Indication = volts => volts > 2.45 ? 300.15 : MetricResult.None("open") };
        Assert.Equal(300.15, Metrics.Get("indicated-temperature").Evaluate(input).Value);
        var error = input with { Parameters = new Dictionary<string, double> { ["true-temperature"] = 298.15 } };
        Assert.Equal(2, Metrics.Get("temperature-error").Evaluate(error).Value, 1e-9);
        Assert.Equal("open", Metrics.Get("indicated-temperature").Evaluate(input with { Wave = wave.Scaled(0.5) }).Reason);
        Assert.Contains("no temperature table", Take.Reason("indicated-temperature", wave), StringComparison.Ordinal);
    }

    [GeneratedRegex("^[a-z0-9]+(-[a-z0-9]+)*$")]
    private static partial Regex Style();
}
