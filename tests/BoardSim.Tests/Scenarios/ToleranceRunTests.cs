using BoardSim.Measurement;
using BoardSim.Scenarios;
using MathNet.Numerics.Integration;

namespace BoardSim.Tests.Scenarios;

/// <summary>Tolerance runs against closed forms and exact integrals of a loaded divider.</summary>
public class ToleranceRunTests
{
    private const int Samples = 2000;

    /// <summary>At 25 degC the sensor has its 10 kohm whatever its beta; it does not warm itself, and nothing but the divider matters at the pin.</summary>
    private const string Divider = """
        title: Divider
        block: thermistor-input
        values:
          sensor.temperature: 25 degC
          sensor.dissipation: 1 W/K
          adc.input-resistance: 1000 Gohm
          connector.leakage: 1000 Gohm
          contact.resistance: 1 mohm
        run:
          compute: operating-point
        conditions:
          healthy:
          damp: {faults: {connector-damp: 100 kohm}}
        observe:
          pin: {point: adc, instrument: none}
          indicated: {readout: indicated-temperature}
        tolerance:
          of: {sensor.r25: 5 %, divider.resistance: 5 %}
          samples: 2000
          corners: all
          record: [pin, indicated]
        expect:
          - {that: mean of pin of healthy = 2.5 V within 1 %, why: Nominally half of it.}
          - {that: pin of healthy < 2.5 V in 40 % of boards, why: Half of them.}
          - {that: p99 of pin of healthy < 2.7 V, why: The tails.}
          - {that: pin of damp < pin of healthy in 100 % of boards, why: The same board with a leak on top.}
          - {that: highest-corner of pin of healthy < 2.63 V, why: "1.05 / (1.05 + 0.95) of 5 V is 2.625 V."}
        """;

    private static ScenarioResult Run(string text, RunOptions? options = null) => ScenarioRunner.Run(ScenarioFile.Parse(text, "sample.yaml"), options);

    // V = 5 s / (s + d), s and d uniform on 1 +- 0.05 and independent. Moments by Gauss-Legendre quadrature of order 32 over the square (MathNet), exact to
    // rounding for so smooth an integrand. A sample mean strays by sigma/sqrt(n), a sample deviation by at most sigma/sqrt(2 n) here, for its fourth
    // moment is below that of the normal distribution; four of these are the bound.
    [Fact]
    public void A_divider_of_uniform_resistors_has_the_moments_of_the_exact_integral()
    {
        double Moment(Func<double, double> of) =>
            GaussLegendreRule.Integrate((s, d) => of(5 * s / (s + d)), 0.95, 1.05, 0.95, 1.05, 32) / (0.1 * 0.1);
        var mean = Moment(v => v);
        var sigma = Math.Sqrt(Moment(v => (v - mean) * (v - mean)));

        var series = Run(Divider).Tolerance!.Find("healthy", "pin")!.Statistics();

        Assert.Equal(Samples, series.Count);
        Assert.Equal(mean, series.Mean, 4 * sigma / Math.Sqrt(Samples));
        Assert.Equal(sigma, series.StandardDeviation, 4 * sigma / Math.Sqrt(2 * Samples));
    }

    // The corners of V = 5 s / (s + d): 5 * 0.95/2, 5 * 1.05/2 and twice 2.5, by hand.
    [Fact]
    public void Corners_are_every_combination_of_the_ends()
    {
        var run = Run(Divider).Tolerance!;

        Assert.Equal([2.375, 2.5, 2.5, 2.625], run.Find("healthy", "pin")!.CornerValues.Order().Select(v => Math.Round(v, 4)));
        Assert.Equal([9500, 10500, 9500, 10500], run.Inputs.Single(i => i.Key == "sensor.r25").Values.TakeLast(4).Select(v => Math.Round(v, 6)));
        Assert.Equal([9500, 9500, 10500, 10500], run.Inputs.Single(i => i.Key == "divider.resistance").Values.TakeLast(4).Select(v => Math.Round(v, 6)));
    }

    // What the board draws is known, so each board can be checked by itself: V = 5 s / (s + d) by hand.
    [Fact]
    public void Each_board_is_computed_with_the_values_it_drew()
    {
        var run = Run(Divider).Tolerance!;
        var (sensor, divider) = (run.Inputs.Single(i => i.Key == "sensor.r25"), run.Inputs.Single(i => i.Key == "divider.resistance"));

        Assert.All(
            Enumerable.Range(0, Samples),
            k => Assert.Equal(5 * sensor.Values[k] / (sensor.Values[k] + divider.Values[k]), run.Find("healthy", "pin")!.Values[k], 5e-5));
    }

    // The program's table was made for the nominal parts: 5 % more of sensor resistance is 5 %/(B/T^2) = 5/4.44 = 1.1 K of indication (beta law, IEC
    // 60539-1), and as much again for the divider. A table that followed the parts would always indicate 25 degC.
    [Fact]
    public void The_program_goes_by_the_design_and_not_by_the_parts()
    {
        var indicated = Run(Divider).Tolerance!.Find("healthy", "indicated")!;

        Assert.InRange(indicated.Statistics().StandardDeviation, 0.7, 1.1);
        Assert.InRange(indicated.CornerStatistics().Minimum, 22.2, 23.3);
        Assert.InRange(indicated.CornerStatistics().Maximum, 26.7, 27.8);
    }

    [Fact]
    public void Expectations_speak_of_statistics_and_yield()
    {
        var result = Run(Divider);

        Assert.True(result.AllHold, string.Join('\n', result.Expectations.Select(e => $"{e.Text}: {e.Found}")));

        // By symmetry half of the boards lie below the nominal ratio; the count strays by sqrt(n)/2.
        var half = result.Expectations[1];
        Assert.Equal(0.5, half.Yield!.Value, 4 * 0.5 / Math.Sqrt(Samples));
        Assert.Equal("%", half.Unit);
        Assert.Matches("^[0-9]+ of 2000 boards$", half.Found);
        Assert.Equal(1, result.Expectations[3].Yield);
        Assert.Null(result.Expectations[0].Yield);
    }

    [Fact]
    public void Another_seed_draws_other_boards_and_more_samples_keep_the_first()
    {
        var run = Run(Divider).Tolerance!.Inputs[0].Values;
        var reseeded = Run(Divider.Replace("samples: 2000", "samples: 2000\n  seed: 2", StringComparison.Ordinal)).Tolerance!.Inputs[0].Values;
        var fewer = Run(Divider.Replace("samples: 2000", "samples: 50", StringComparison.Ordinal)
            .Replace("of: {sensor.r25: 5 %,", "of: {supply.voltage: 1 %, sensor.r25: 5 %,", StringComparison.Ordinal)).Tolerance!.Inputs[1].Values;

        Assert.NotEqual(run.Take(50), reseeded.Take(50));
        Assert.Equal(run.Take(50), fewer.Take(50));
    }

    [Fact]
    public void A_case_that_fails_is_counted_and_told_and_the_others_stay()
    {
        var scenario = ScenarioFile.Parse(Divider, "sample.yaml");
        scenario = scenario with
        {
            Tolerance = scenario.Tolerance! with { Values = [new ValueTolerance("firmware.entries", 0.5, false, Scatter.Uniform, "0.5"), scenario.Tolerance.Values[0]], Samples = 6, Corners = true },
            Expectations = [],
        };

        // The number of entries has to be whole: half an entry more or less is none, drawn or at a corner.
        var failure = Assert.Throws<ScenarioRunException>(() => ScenarioRunner.Run(scenario));
        Assert.Contains("None of the 20 cases could be computed", failure.Message, StringComparison.Ordinal);

        // One entry more or less than the usual thirty: the corners are whole numbers, drawn boards are not.
        scenario = scenario with { Tolerance = scenario.Tolerance with { Values = [scenario.Tolerance.Values[0] with { Tolerance = 1 }, scenario.Tolerance.Values[1]] } };
        var run = ScenarioRunner.Run(scenario).Tolerance!;

        Assert.Equal(20, run.Cases.Total);
        Assert.Equal(12, run.Cases.Failures.Count);
        Assert.Contains("whole number", run.Cases.Failures[0].Message, StringComparison.Ordinal);
        Assert.Equal("healthy, board 0", run.Cases.Failures[0].Case);
        Assert.All(run.Series, s => Assert.Equal((0, 6), (s.Statistics().Count, s.Statistics().Missing)));
        Assert.All(run.Series, s => Assert.Equal(4, s.CornerStatistics().Count));
    }

    [Theory]
    [InlineData("sensor.r25: 5 %", "sensor.r52: 5 %", "\"sensor.r52\" is not a value with a unit of block thermistor-input")]
    [InlineData("sensor.r25: 5 %", "sensor.r25: 5", "\"5\" has no unit")]
    [InlineData("sensor.r25: 5 %", "sensor.r25: -5 %", "it has to be more than zero")]
    [InlineData("sensor.r25: 5 %", "sensor.r25: 100 %", "under condition healthy, an end of the tolerance is not legal: sensor.r25")]
    [InlineData("sensor.r25: 5 %", "sensor.r25: {tolerance: 5 %, distribution: gaussian}", "\"gaussian\" is not a tolerance of a value's distribution")]
    [InlineData("samples: 2000", "samples: none", "samples: \"none\" is not a whole number from 0 to 1000000")]
    [InlineData("record: [pin,", "record: [pni,", "\"pni\" is not a metric or reading of this scenario")]
    [InlineData("mean of pin of healthy", "mode of pin of healthy", "this is not METRIC of CONDITION")]
    [InlineData("in 40 % of boards", "in 140 % of boards", "more than 0 % and at most 100 %")]
    [InlineData("corners: all", "corners: none", "the tolerance run has no corners")]
    [InlineData("samples: 2000", "samples: 0", "the tolerance run draws no boards")]
    [InlineData("record: [pin, indicated]", "conditions: [damp]\n  record: [pin]", "condition healthy is not among those of the tolerance run: damp")]
    public void What_is_wrong_is_told(string good, string bad, string message)
    {
        Assert.Contains(good, Divider, StringComparison.Ordinal);

        var wrong = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(Divider.Replace(good, bad, StringComparison.Ordinal), "sample.yaml"));

        Assert.Contains(wrong.Findings, f => f.ToString().Contains(message, StringComparison.Ordinal));
    }
}
