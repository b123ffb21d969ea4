using System.Text.RegularExpressions;

namespace BoardSim.Cli.Tests;

/// <summary>The contract of <c>run</c>: files, exit codes, streams, and the same bytes from the same input.</summary>
public sealed partial class RunCommandTests : IDisposable
{
    private const string Sensor = """
        title: Sensor open
        block: thermistor-input
        run:
          compute: operating-point
        conditions:
          healthy:
          open:
            faults:
              sensor-open: present
        observe:
          pin:
            label: Converter pin
            point: adc
            instrument: dc-voltmeter
        sweep:
          vary: sensor.temperature
          points: [0 degC, 50 degC]
          record: [pin]
        expect:
          - that: pin of open > 4.9 V
            why: Nothing pulls the divider down.
        figures:
          sweep:
            kind: sweep
            title: Pin voltage over temperature
            show: [pin]
        """;

    private const string Rectifier = """
        title: Rectifier
        block: bridge-bulk
        run:
          stop: 50 ms
        conditions:
          healthy:
          dry:
            faults:
              bulk-capacitance-lost: 0.3
        observe:
          bulk:
            point: bulk
        metrics:
          ripple:
            take: ripple-peak-to-peak
            of: bulk
            over: last 1 line cycle
        expect:
          - that: ripple of dry > ripple of healthy
            why: Less capacitance falls further between crests.
        figures:
          bulk:
            kind: waveforms
            title: Bulk voltage
            show: [bulk]
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("run-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_scenario_gives_readings_expectations_and_a_folder()
    {
        var run = Shell.Run("run", Write("sensor.yaml", Sensor), "--out", At("out"));

        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("Converter pin", run.Output);
        Assert.Contains("adc against board ground", run.Output);
        Assert.Contains("multimeter, DC volts", run.Output);
        Assert.Contains("holds", run.Output);
        Assert.Contains("Nothing pulls the divider down.", run.Output);
        Assert.Contains("worst residual of Kirchhoff's current law", run.Output);
        Assert.DoesNotContain("CAUTION", run.Output);

        // Nothing that only a terminal understands reaches a file or a pipe.
        Assert.DoesNotContain('\u001b', run.Output);
        Assert.All(
            new[] { "result.json", "waveforms.csv", "circuit.cir", "circuit-open.cir", "figures/sweep.png", "figures/sweep.svg" },
            name => Assert.True(File.Exists(Path.Combine(At("out"), name)), name));
    }

    [Fact]
    public void The_line_side_carries_its_cautions_into_console_and_folder()
    {
        var run = Shell.Run("run", Write("rectifier.yaml", Rectifier), "--out", At("out"));

        Assert.Equal(0, run.Code);
        Assert.Contains("CAUTION: This board has a line side.", run.Output);
        Assert.Contains("can kill", File.ReadAllText(Path.Combine(At("out"), "result.json")));
        Assert.Contains("can kill", File.ReadAllText(Path.Combine(At("out"), "figures", "CAUTION.txt")));
    }

    [Fact]
    public void The_same_input_gives_the_same_bytes()
    {
        var file = Write("rectifier.yaml", Rectifier);
        Assert.Equal(0, Shell.Run("run", file, "--out", At("one")).Code);
        Assert.Equal(0, Shell.Run("run", file, "--out", At("two")).Code);

        Assert.Equal(File.ReadAllBytes(At("one/waveforms.csv")), File.ReadAllBytes(At("two/waveforms.csv")));
        Assert.Equal(File.ReadAllBytes(At("one/circuit.cir")), File.ReadAllBytes(At("two/circuit.cir")));
        var results = new[] { "one", "two" }.Select(f => File.ReadAllText(At($"{f}/result.json"))).ToList();
        Assert.Matches(WallSeconds(), results[0]);
        Assert.Equal(WallSeconds().Replace(results[0], ""), WallSeconds().Replace(results[1], ""));
    }

    [Fact]
    public void Several_scenarios_get_folders_of_their_own()
    {
        var run = Shell.Run("run", Write("a.yaml", Sensor), Write("b.yaml", Sensor), "--out", At("out"));

        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.True(File.Exists(At("out/a/result.json")));
        Assert.True(File.Exists(At("out/b/result.json")));
    }

    [Fact]
    public void Two_scenarios_of_one_name_are_refused()
    {
        Directory.CreateDirectory(At("other"));

        var run = Shell.Run("run", Write("a.yaml", Sensor), Write("other/a.yaml", Sensor), "--out", At("out"));

        Assert.Equal(2, run.Code);
        Assert.Contains("named a", run.Error);
        Assert.False(Directory.Exists(At("out")));
    }

    [Fact]
    public void An_expectation_that_does_not_hold_ends_with_1_and_says_what_was_found()
    {
        var run = Shell.Run("run", Write("a.yaml", Sensor.Replace("pin of open > 4.9 V", "pin of open < 1 V", StringComparison.Ordinal)), "--out", At("out"));

        Assert.Equal((1, ""), (run.Code, run.Error));
        Assert.Matches(@"FAILS\W+pin of open < 1 V\W+(4\.99|5\.0)\d* V", run.Output);

        // The results of a run that surprises are the ones that are looked at.
        Assert.True(File.Exists(At("out/result.json")));
    }

    [Fact]
    public void Everything_wrong_with_all_files_is_told_and_nothing_is_written()
    {
        var good = Write("good.yaml", Sensor);
        var one = Write("one.yaml", Sensor.Replace("sensor-open: present", "sensor-opne: present", StringComparison.Ordinal));
        var two = Write("two.yaml", Sensor.Replace("0 degC,", "0,", StringComparison.Ordinal));

        var run = Shell.Run("run", good, one, two, At("three.yaml"), "--out", At("out"));

        Assert.Equal((2, ""), (run.Code, run.Output));
        var lines = run.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(3, lines.Length);
        Assert.StartsWith($"{one}:9:7: \"sensor-opne\" is not a fault of block thermistor-input; did you mean sensor-open?", lines[0]);
        Assert.StartsWith($"{two}:17:12: \"0\" has no unit", lines[1]);
        Assert.StartsWith($"{At("three.yaml")}: there is no such file", lines[2]);
        Assert.False(Directory.Exists(At("out")));
    }

    [Fact]
    public void A_folder_that_cannot_be_written_is_told_before_anything_is_computed()
    {
        var run = Shell.Run("run", Write("a.yaml", Sensor), "--out", Write("file.txt", "occupied"));

        Assert.Equal((2, ""), (run.Code, run.Output));
        Assert.Contains("file.txt", run.Error);
    }

    [Fact]
    public void A_cancelled_run_ends_with_130_and_leaves_nothing_behind()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();

        var run = Shell.Run(cancelled.Token, "run", Write("a.yaml", Rectifier), "--out", At("out"));

        Assert.Equal(130, run.Code);
        Assert.Equal("Cancelled.", run.Error.Trim());
        Assert.False(Directory.Exists(At("out")));
    }

    [Fact]
    public async Task A_cancelled_tolerance_run_keeps_its_finished_cases_and_goes_on()
    {
        var file = Write("spread.yaml", Spread(1_000_000));
        var partial = At("out/cases.partial.jsonl");
        using var cancelled = new CancellationTokenSource();
        var watcher = Task.Run(() =>
        {
            SpinWait.SpinUntil(() => File.Exists(partial));
            cancelled.Cancel();
        });

        var run = Shell.Run(cancelled.Token, "run", file, "--out", At("out"));
        await watcher;

        Assert.Equal((130, ""), (run.Code, run.Output));
        var finished = File.ReadLines(partial).Count() - 1;
        Assert.True(finished > 0);
        Assert.Contains($"Cancelled. {finished} finished cases are kept in {partial}; the same command with --resume goes on", run.Error);
        Assert.Equal(["cases.partial.jsonl"], Directory.EnumerateFileSystemEntries(At("out")).Select(Path.GetFileName));

        // Nobody's finished cases are thrown away by leaving a word out.
        var forgotten = Shell.Run("run", file, "--out", At("out"));
        Assert.Equal((2, ""), (forgotten.Code, forgotten.Output));
        Assert.Contains("add --resume to go on from there", forgotten.Error);
        Assert.Equal(finished, File.ReadLines(partial).Count() - 1);
    }

    [Fact]
    public void Whatever_was_finished_before_and_on_however_many_threads_the_bytes_are_the_same()
    {
        var file = Write("spread.yaml", Spread(200));
        Assert.Equal(0, Shell.Run("run", file, "--out", At("whole"), "--threads", "1").Code);

        Assert.Equal(0, Shell.Run("run", file, "--out", At("shared"), "--shard", "1/3").Code);
        Assert.Equal(0, Shell.Run("run", file, "--out", At("shared"), "--shard", "3/3", "--threads", "2").Code);
        var shards = new[] { "cases.shard-1-of-3.jsonl", "cases.shard-3-of-3.jsonl" };
        Assert.Equal(shards, Directory.EnumerateFileSystemEntries(At("shared")).Select(Path.GetFileName).Order());

        // What was one shard's becomes the unfinished run of this machine.
        File.Move(At($"shared/{shards[0]}"), At("shared/cases.partial.jsonl"));
        Assert.Equal(0, Shell.Run("run", file, "--out", At("shared"), "--resume", "--threads", "2").Code);

        var names = Directory.EnumerateFiles(At("whole"), "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(At("whole"), f)).Order().ToList();
        Assert.Contains("cases.csv", names);
        Assert.Contains("figures/error.png", names.Select(n => n.Replace('\\', '/')));
        Assert.Equal(names.Append(shards[1]).Order(), Directory.EnumerateFiles(At("shared"), "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(At("shared"), f)).Order());
        Assert.All(names.Where(n => n != "result.json"), n => Assert.Equal(File.ReadAllBytes(At($"whole/{n}")), File.ReadAllBytes(At($"shared/{n}"))));
        var results = new[] { "whole", "shared" }.Select(f => WallSeconds().Replace(File.ReadAllText(At($"{f}/result.json")), "")).ToList();
        Assert.Equal(results[0], results[1]);
        Assert.Contains("\"total\": 400", results[0]);
    }

    [Theory]
    [InlineData("--threads", "0", "--threads 0: give a number from 1 to 1024")]
    [InlineData("--shard", "3/2", "--shard 3/2: write which part of how many")]
    [InlineData("--shard", "1/2", "there is no sweep and no tolerance run")]
    public void Wrong_words_about_cases_are_refused(string option, string value, string message)
    {
        var run = Shell.Run("run", Write("a.yaml", Rectifier), "--out", At("out"), option, value);

        Assert.Equal((2, ""), (run.Code, run.Output));
        Assert.Contains(message, run.Error);
        Assert.False(Directory.Exists(At("out")));
    }

    private static string Spread(int samples) => $$"""
        title: Spread
        block: thermistor-input
        run:
          compute: operating-point
        conditions:
          healthy:
          damp:
            faults: {connector-damp: 100 kohm}
        observe:
          error: {readout: indicated-temperature, show: error}
        tolerance:
          of: {sensor.r25: 5 %, divider.resistance: 1 %}
          samples: {{samples}}
          record: [error]
        expect:
          - that: error of healthy between -2 K and 2 K in 95 % of boards
            why: Five per cent are 1.1 K.
        figures:
          error: {kind: histogram, title: Error, show: [error]}
        """;

    private string At(string name) => Path.Combine(folder, name);

    private string Write(string name, string text)
    {
        File.WriteAllText(At(name), text);
        return At(name);
    }

    [GeneratedRegex(@"""wallSeconds"": [0-9.eE+-]+")]
    private static partial Regex WallSeconds();
}
