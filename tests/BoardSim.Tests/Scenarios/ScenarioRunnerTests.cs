using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

public class ScenarioRunnerTests
{
    private static ScenarioResult Run(string text, int parallel = 2) =>
        ScenarioRunner.Run(ScenarioFile.Parse(text, "sample.yaml"), new RunOptions { MaxParallel = parallel });

    // A divider of two equal resistors halves its supply; at 25 degC the beta law gives R25 by definition (IEC 60539-1, zero-power
    // resistance at 25 degC). The sample gives off its heat too well to warm itself.
    [Fact]
    public void An_operating_point_gives_readings()
    {
        var result = Run(Samples.Thermistor);

        var healthy = result.Condition("healthy");
        Assert.InRange(healthy.Value("pin")!.Value, 2.497, 2.503);
        Assert.Equal("V", healthy.Readings.Single(r => r.Name == "pin").Unit);
        Assert.InRange(healthy.Value("indicated")!.Value, 24.7, 25.3);
        Assert.Equal("degC", healthy.Readings.Single(r => r.Name == "indicated").Unit);

        // An open sensor to ground lifts the divider to its supply (common practice, no source).
        Assert.InRange(result.Condition("open").Value("pin")!.Value, 4.99, 5.0);
        Assert.True(result.AllHold, string.Join('\n', result.Expectations.Select(e => $"{e.Text}: {e.Found}")));
        Assert.Empty(result.Cautions);
    }

    // R(T) = R25 exp(B (1/T - 1/T25)) with 10 kohm and 3950 K, divider of 10 kohm on 5 V, computed by hand from the beta law (IEC
    // 60539-1, 3.3): 0 degC: 33.6 kohm, 3.854 V; 50 degC: 3.588 kohm, 1.320 V.
    [Fact]
    public void A_sweep_records_each_point_under_each_condition()
    {
        var sweep = Run(Samples.Thermistor).Sweep!;

        Assert.Equal("degC", sweep.Unit);
        Assert.Equal([0, 25, 50], sweep.X.Select(x => Math.Round(x, 9)));
        Assert.Equal(["healthy pin", "healthy indicated", "open pin", "open indicated"], sweep.Series.Select(s => $"{s.Condition} {s.Name}"));
        var pin = sweep.Find("healthy", "pin")!.Values;
        Assert.Equal(3.854, pin[0], 0.004);
        Assert.Equal(2.500, pin[1], 0.003);
        Assert.Equal(1.320, pin[2], 0.004);
        Assert.All(sweep.Find("open", "pin")!.Values, v => Assert.InRange(v, 4.99, 5.0));
    }

    // A multimeter of 3 kohm (low impedance) across the lower of two 10 kohm: 5 V * (10k || 3k) / (10k + 10k || 3k) = 0.9375 V.
    [Fact]
    public void An_instrument_loads_the_circuit()
    {
        var text = Samples.Thermistor.Replace("instrument: none", "instrument: low-impedance-dc-voltmeter", StringComparison.Ordinal);

        var pin = Run(text.Replace("point: adc", "point: divider", StringComparison.Ordinal)).Condition("healthy").Readings.Single(r => r.Name == "pin");

        Assert.Equal(0.9375, pin.Value, 0.002);
        Assert.Contains("low impedance", pin.Signal.Instrument, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_against_another_reference_says_so()
    {
        var text = Samples.Thermistor.Replace("point: adc\n", "point: adc\n    against: supply\n", StringComparison.Ordinal);

        var pin = Run(text).Condition("healthy").Readings.Single(r => r.Name == "pin");

        // Half the supply below the supply.
        Assert.Equal(-2.5, pin.Value, 0.003);
        Assert.True(pin.Signal.IsWrongReference);
        Assert.Equal("supply", pin.Signal.Reference);
    }

    // Bulk plus against the negative side of the bridge is the charged capacitor. Against neutral, while the line's positive half-wave
    // charges, the return lies a diode below neutral; while the negative one does, plus lies a diode above it: the mean is far lower.
    [Fact]
    public void A_reference_that_is_no_test_point_can_be_measured_against()
    {
        var text = Samples.Rectifier.Replace("    point: bulk\n    instrument: dc-voltmeter\n", "    point: bulk\n    against: neutral\n    instrument: dc-voltmeter\n", StringComparison.Ordinal);

        var reading = Run(text).Condition("healthy").Readings.Single(r => r.Name == "bulk-dc");

        Assert.Equal("neutral", reading.Signal.Reference);
        Assert.True(reading.Signal.IsWrongReference);
        Assert.InRange(reading.Value, 10, 130);
    }

    [Fact]
    public void A_sweep_can_be_kept_to_some_conditions()
    {
        var text = Samples.Thermistor.Replace("  record: [pin, indicated]", "  conditions: [healthy]\n  record: [pin]", StringComparison.Ordinal)
            .Replace("at 50 degC = 50 degC within 1 K", "between 24 degC and 26 degC", StringComparison.Ordinal);

        var result = Run(text);

        Assert.Equal("healthy", Assert.Single(result.Sweep!.Series).Condition);
        Assert.True(result.AllHold);
    }

    [Fact]
    public void The_netlist_of_each_condition_is_read_back()
    {
        var result = Run(Samples.Rectifier);

        Assert.All(result.Conditions, condition =>
        {
            var netlist = NetlistReader.Read(condition.NetlistText);
            Assert.NotEmpty(netlist.Circuit.Devices);
            Assert.Single(netlist.Analyses);
        });
    }

    [Fact]
    public void A_transient_run_gives_waveforms_metrics_and_evidence()
    {
        var result = Run(Samples.Rectifier);

        var healthy = result.Condition("healthy");
        var bulk = healthy.Waveform("bulk")!;
        Assert.Equal(bulk.Times.Length, bulk.Values.Length);

        // A 120 V line charges the bulk capacitor to about 170 V (common practice, no source), less two diodes.
        Assert.InRange(healthy.Value("top")!.Value, 160, 172);
        Assert.True(healthy.Evidence.Points > 100);
        Assert.Equal(60, healthy.LineFrequency);

        // A window of the last line cycle ends with the run and is one sixtieth of a second long.
        var ripple = healthy.Metrics.Single(m => m.Name == "ripple");
        Assert.Equal(healthy.Stop, ripple.To, 12);
        Assert.Equal(1 / 60.0, ripple.To - ripple.From, 9);
        Assert.True(result.AllHold, string.Join('\n', result.Expectations.Select(e => $"{e.Text}: {e.Found}")));
    }

    [Fact]
    public void A_board_with_a_line_side_carries_its_cautions() =>
        Assert.Contains(Run(Samples.Rectifier).Cautions, c => c.Contains("can kill", StringComparison.Ordinal));

    [Fact]
    public void What_comes_out_does_not_depend_on_the_number_of_threads()
    {
        var (one, four) = (Run(Samples.Rectifier, 1), Run(Samples.Rectifier, 4));

        foreach (var (a, b) in one.Conditions.Zip(four.Conditions))
        {
            Assert.Equal(a.Metrics.Select(m => m.Value), b.Metrics.Select(m => m.Value));
            Assert.Equal(a.Waveforms[0].Times, b.Waveforms[0].Times);
            Assert.Equal(a.Waveforms[0].Values, b.Waveforms[0].Values);
            Assert.Equal(a.NetlistText, b.NetlistText);
            Assert.Equal(a.Evidence with { WallSeconds = 0 }, b.Evidence with { WallSeconds = 0 });
        }

        Assert.Equal(one.Sweep!.Series.SelectMany(s => s.Values), four.Sweep!.Series.SelectMany(s => s.Values));
    }

    [Fact]
    public void An_expectation_that_does_not_hold_says_what_was_found()
    {
        var text = Samples.Thermistor.Replace("pin of open > 4.9 V", "pin of open < 1 V", StringComparison.Ordinal);

        var failed = Assert.Single(Run(text).Expectations, e => !e.Holds);

        Assert.Equal("pin of open < 1 V", failed.Text);
        Assert.StartsWith("4.99", failed.Found, StringComparison.Ordinal);
        Assert.Equal("V", failed.Unit);
    }

    [Fact]
    public void A_cancelled_run_stops()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();

        Assert.ThrowsAny<OperationCanceledException>(() =>
            ScenarioRunner.Run(ScenarioFile.Parse(Samples.Rectifier, "a.yaml"), new RunOptions { Cancellation = cancelled.Token }));
    }

    [Fact]
    public void A_run_can_be_cancelled_under_way()
    {
        using var source = new CancellationTokenSource();
        var text = Samples.Rectifier.Replace("stop: 100 ms", "stop: 1000 s", StringComparison.Ordinal);
        source.CancelAfter(TimeSpan.FromMilliseconds(300));

        Assert.ThrowsAny<OperationCanceledException>(() =>
            ScenarioRunner.Run(ScenarioFile.Parse(text, "a.yaml"), new RunOptions { Cancellation = source.Token }));
    }

    [Fact]
    public void Progress_counts_every_computation_once()
    {
        var seen = new List<RunProgress>();

        ScenarioRunner.Run(ScenarioFile.Parse(Samples.Thermistor, "a.yaml"), new RunOptions { Progress = new Recorder(seen), MaxParallel = 2 });

        // Two conditions, and three points of the sweep under each.
        Assert.Equal(Enumerable.Range(1, 8), seen.Select(p => p.Done));
        Assert.All(seen, p => Assert.Equal(8, p.Total));
        Assert.Contains(seen, p => p.What == "open at 50 degC");
    }

    [Fact]
    public void A_failure_names_the_condition()
    {
        // A circuit that cannot be compiled comes out of no file; a model put together in code can ask for it.
        var scenario = ScenarioFile.Parse(Samples.Thermistor, "sample.yaml") with
        {
            Run = new RunSettings { Kind = RunKind.Transient },
        };

        var failure = Assert.Throws<ScenarioRunException>(() => ScenarioRunner.Run(scenario));

        Assert.Equal("healthy", failure.Condition);
        Assert.StartsWith("sample, condition healthy: ", failure.Message, StringComparison.Ordinal);
        Assert.IsType<CircuitException>(failure.InnerException);
    }

    private sealed class Recorder(List<RunProgress> seen) : IProgress<RunProgress>
    {
        public void Report(RunProgress value) => seen.Add(value);
    }
}
