using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>Runs that are broken off, go on, and end as if nothing had happened; and runs that are shared.</summary>
public sealed class CaseStoreTests : IDisposable
{
    private const string Text = """
        title: Both
        block: thermistor-input
        run:
          compute: operating-point
        conditions:
          healthy:
          damp: {faults: {connector-damp: 100 kohm}}
        observe:
          pin: {point: adc, instrument: none}
          error: {readout: indicated-temperature, show: error}
        sweep:
          severity-of: connector-damp
          from: 10 kohm
          to: 1 Mohm
          count: 40
          record: [pin]
        tolerance:
          of: {sensor.r25: 5 %, divider.resistance: {tolerance: 1 %, distribution: normal}}
          samples: 150
          corners: all
          record: [pin, error]
        expect:
          - {that: pin of damp < pin of healthy in 100 % of boards, why: A leak to ground.}
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("cases-").FullName;

    private string Partial => Path.Combine(folder, CaseStore.PartialName);

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_run_that_was_cancelled_goes_on_and_ends_the_same()
    {
        var scenario = ScenarioFile.Parse(Text, "both.yaml");
        var whole = ScenarioRunner.Run(scenario, new RunOptions { MaxParallel = 2 });

        var store = new CaseStore(scenario, Partial);
        using var cancelled = new CancellationTokenSource();
        Assert.ThrowsAny<OperationCanceledException>(() => ScenarioRunner.Run(
            scenario, new RunOptions { MaxParallel = 2, Cases = store, Cancellation = cancelled.Token, Progress = new After(100, cancelled.Cancel) }));
        store.Flush();
        var finished = store.Finished;
        Assert.InRange(finished, 90, 120);
        Assert.Contains("\"partial\":true", File.ReadLines(Partial).First(), StringComparison.Ordinal);
        Assert.Equal(finished + 1, File.ReadLines(Partial).Count());

        // A killed run may leave half a line.
        File.AppendAllText(Partial, "{\"case\":7,\"val");
        var again = new CaseStore(scenario, Partial);
        again.Load();
        Assert.Equal(finished, again.Finished);
        var counted = new After(int.MaxValue, () => { });
        var resumed = ScenarioRunner.Run(scenario, new RunOptions { MaxParallel = 1, Cases = again, Progress = counted });

        AssertSame(whole, resumed);

        // Two conditions, forty points and one of the condition without the fault, two conditions of 154 boards; the finished ones were not computed again.
        Assert.Equal(2 + 41 + 308 - finished, counted.Reports);
        again.Flush();
        Assert.Equal(1 + 41 + 308, File.ReadLines(Partial).Count());
    }

    [Fact]
    public void Shards_put_together_are_the_whole_run()
    {
        var scenario = ScenarioFile.Parse(Text, "both.yaml");
        var whole = ScenarioRunner.Run(scenario);

        var counts = Enumerable.Range(1, 3).Select(i =>
        {
            var shard = new Shard(i, 3);
            return ScenarioRunner.RunShard(scenario, shard, new RunOptions { Cases = new CaseStore(scenario, Path.Combine(folder, CaseStore.NameOf(shard))) });
        }).ToList();
        Assert.Equal(41 + 308, counts.Sum());

        var store = new CaseStore(scenario, Partial);
        store.Load();
        var counted = new After(int.MaxValue, () => { });
        AssertSame(whole, ScenarioRunner.Run(scenario, new RunOptions { Cases = store, Progress = counted }));
        Assert.Equal(2, counted.Reports);
    }

    [Fact]
    public void The_number_of_threads_does_not_show()
    {
        var scenario = ScenarioFile.Parse(Text, "both.yaml");

        AssertSame(ScenarioRunner.Run(scenario, new RunOptions { MaxParallel = 1 }), ScenarioRunner.Run(scenario, new RunOptions { MaxParallel = 4 }));
    }

    [Fact]
    public void Cases_of_another_scenario_are_refused()
    {
        var scenario = ScenarioFile.Parse(Text, "both.yaml");
        ScenarioRunner.RunShard(scenario, new Shard(1, 50), new RunOptions { Cases = new CaseStore(scenario, Partial) });

        var changed = new CaseStore(ScenarioFile.Parse(Text.Replace("sensor.r25: 5 %", "sensor.r25: 6 %", StringComparison.Ordinal), "both.yaml"), Partial);
        Assert.Contains("belongs to another scenario", Assert.Throws<CaseStoreException>(changed.Load).Message, StringComparison.Ordinal);

        // What is expected has no say in what is computed.
        var expected = new CaseStore(ScenarioFile.Parse(Text.Replace("in 100 %", "in 50 %", StringComparison.Ordinal), "both.yaml"), Partial);
        expected.Load();
        Assert.Equal(7, expected.Finished);
    }

    [Fact]
    public void A_damaged_file_is_refused()
    {
        var scenario = ScenarioFile.Parse(Text, "both.yaml");
        ScenarioRunner.RunShard(scenario, new Shard(1, 50), new RunOptions { Cases = new CaseStore(scenario, Partial) });
        var lines = File.ReadAllLines(Partial);

        File.WriteAllText(Partial, string.Join('\n', lines[0], "{\"case\":3,\"values\":[1", lines[1]) + "\n");
        Assert.Contains("no finished case", Assert.Throws<CaseStoreException>(new CaseStore(scenario, Partial).Load).Message, StringComparison.Ordinal);

        File.WriteAllText(Partial, "something else\n");
        Assert.Contains("no file of finished cases", Assert.Throws<CaseStoreException>(new CaseStore(scenario, Partial).Load).Message, StringComparison.Ordinal);
    }

    private static void AssertSame(ScenarioResult expected, ScenarioResult actual)
    {
        Assert.Equal(expected.Sweep!.Series.Select(s => s.Values), actual.Sweep!.Series.Select(s => s.Values));
        Assert.Equal(expected.Sweep.Evidence with { WallSeconds = 0 }, actual.Sweep.Evidence with { WallSeconds = 0 });
        Assert.Equal(expected.Tolerance!.Series.Select(s => s.Values), actual.Tolerance!.Series.Select(s => s.Values));
        Assert.Equal(expected.Tolerance.Series.Select(s => s.CornerValues), actual.Tolerance.Series.Select(s => s.CornerValues));
        Assert.Equal(expected.Tolerance.Evidence with { WallSeconds = 0 }, actual.Tolerance.Evidence with { WallSeconds = 0 });
        Assert.Equal(expected.Expectations, actual.Expectations);
    }

    private sealed class After(int count, Action act) : IProgress<RunProgress>
    {
        public int Reports { get; private set; }

        public void Report(RunProgress value)
        {
            if (++Reports == count)
            {
                act();
            }
        }
    }
}
