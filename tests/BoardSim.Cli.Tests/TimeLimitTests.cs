using System.Text.Json;

namespace BoardSim.Cli.Tests;

/// <summary>What is cut short is marked as such wherever a user meets it: exit code, message, file name, result.json.</summary>
public sealed class TimeLimitTests : IDisposable
{
    // Minutes of work: a million periods with a diode.
    private const string Endless = "long\nV1 in 0 SIN(0 10 50k)\nD1 in a dm\nC1 a 0 1u\nR1 a 0 1k\n.model dm D\n.tran 1u 20 UIC\n.print tran V(a)\n.end\n";

    private readonly string folder = Directory.CreateTempSubdirectory("limit-").FullName;

    private string Out => Path.Combine(folder, "out");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_run_out_of_time_leaves_what_it_has_computed_and_says_so_everywhere()
    {
        var run = Solve(Endless, "--time-limit", "100ms");
        Assert.Equal(3, run.Code);
        Assert.Matches(@"\.tran was cut by the time limit of 0\.1 s at time = \S+ s of 20 s; \S+waveforms\.partial\.csv holds what was computed until then\. Allow more time \(--time-limit\)", run.Error);
        Assert.Contains("tran (timed-out)", run.Output, StringComparison.Ordinal);
        Assert.Equal(["result.json", "waveforms.partial.csv"], Files());

        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(Out, "result.json")));
        Assert.Equal("timed-out", json.RootElement.GetProperty("status").GetString());
        var analysis = json.RootElement.GetProperty("analyses")[0];
        Assert.Equal("timed-out", analysis.GetProperty("status").GetString());
        Assert.Equal("waveforms.partial.csv", analysis.GetProperty("file").GetString());
        Assert.InRange(analysis.GetProperty("reached").GetDouble(), 0, 19);
    }

    [Fact]
    public void A_whole_table_takes_the_place_of_the_partial_one_and_the_other_way_round()
    {
        const string text = "t\nV1 a 0 SIN(0 1 1k)\nR1 a 0 1\n.tran 1u 5m\n.end\n";
        var cut = Solve(text, "--most-values", "20");
        Assert.Equal(3, cut.Code);
        Assert.Contains("full with 20 values", cut.Error, StringComparison.Ordinal);
        Assert.Contains("(--most-values)", cut.Error, StringComparison.Ordinal);
        Assert.Equal(["result.json", "waveforms.partial.csv"], Files());
        var partial = File.ReadAllText(Path.Combine(Out, "waveforms.partial.csv"));

        Assert.Equal(0, Solve(text).Code);
        Assert.Equal(["result.json", "waveforms.csv"], Files());
        Assert.StartsWith(partial, File.ReadAllText(Path.Combine(Out, "waveforms.csv")), StringComparison.Ordinal);
        using (var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(Out, "result.json"))))
        {
            Assert.Equal("completed", json.RootElement.GetProperty("status").GetString());
            Assert.False(json.RootElement.GetProperty("analyses")[0].TryGetProperty("reached", out _));
        }

        Solve(text, "--most-values", "20");
        Assert.Equal(["result.json", "waveforms.partial.csv"], Files());
    }

    // The operating point has the limit to itself, and of one that was not found nothing can be kept.
    [Fact]
    public void An_operating_point_out_of_time_leaves_nothing()
    {
        var run = Solve("t\nV1 a 0 1\nR1 a 0 1\n.op\n.end\n", "--time-limit", "1fs");
        Assert.Equal(3, run.Code);
        Assert.Contains("Operating point: the time limit of 0 s ran out", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Out));
    }

    [Fact]
    public void A_scenario_out_of_time_names_the_condition_and_writes_nothing()
    {
        var file = Path.Combine(folder, "slow.yaml");
        File.WriteAllText(file, """
            title: Slow
            block: bridge-bulk
            run: {start: switch-on, stop: 1000 s}
            conditions: {healthy: {}}
            observe: {bulk: {point: bulk}}
            metrics: {mean: {take: mean, of: bulk}}
            expect: [{that: mean of healthy > 1 V, why: Powered.}]
            """);
        var run = Shell.Run("run", file, "--out", Out, "--time-limit", "100 ms");
        Assert.Equal(3, run.Code);
        Assert.Matches("slow, condition healthy: the time limit of 100 ms ran out at t = .* of 1000 s; allow more time, stop the run earlier, or ask for less accuracy", run.Error);
        Assert.False(Directory.Exists(Out));
    }

    [Theory]
    [InlineData("10")]
    [InlineData("-1 s")]
    [InlineData("0 s")]
    [InlineData("nan s")]
    [InlineData("1e300 s")]
    [InlineData("5 kg")]
    public void A_limit_that_is_no_time_is_refused(string text)
    {
        var run = Solve(Endless, "--time-limit", text);
        Assert.Equal(2, run.Code);
        Assert.Contains($"--time-limit '{text}': it must be a time with its unit, such as 10s, 500ms or 5min.", run.Error, StringComparison.Ordinal);
    }

    private List<string> Files() => [.. Directory.GetFiles(Out).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];

    private Shell.Outcome Solve(string text, params string[] more)
    {
        var file = Path.Combine(folder, "board.cir");
        File.WriteAllText(file, text);
        return Shell.Run(["solve", file, "--out", Out, .. more]);
    }
}
