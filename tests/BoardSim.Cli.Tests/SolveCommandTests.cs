using System.Globalization;
using System.Text.Json;

namespace BoardSim.Cli.Tests;

/// <summary>The contract of <c>solve</c>: files, exit codes, streams. Expected values are of linear circuits, from Ohm's law and
/// Thevenin's theorem unless a source is named.</summary>
public sealed class SolveCommandTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("solve-").FullName;

    private string Out => Path.Combine(folder, "out");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_transient_gives_time_nodes_and_source_and_winding_currents()
    {
        var run = Solve("divider\nV1 in 0 10\nR1 in out 6k\nR2 out n 4k\nL1 n 0 1m\n.tran 1u 10u\n.end");
        Assert.Equal((0, ""), (run.Code, run.Error));
        var csv = Csv("waveforms.csv");
        Assert.Equal(["time", "V(in)", "V(out)", "V(n)", "I(V1)", "I(L1)"], csv.Header);
        Assert.Equal(0, csv.Rows[0][0]);
        Assert.Equal(10e-6, csv.Rows[^1][0]);
        Assert.All(csv.Rows, r => Assert.Equal(4, r[2], 9));
        Assert.All(csv.Rows, r => Assert.Equal(-1e-3, r[4], 12));
    }

    [Fact]
    public void The_result_tells_what_the_solver_did()
    {
        Solve("rc\nV1 in 0 PULSE(0 1 0 1n 1n 1 2)\nR1 in out 1k\nC1 out 0 1u\n.tran 1u 5m\n.end");
        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(Out, "result.json")));
        var solver = json.RootElement.GetProperty("solver");
        Assert.True(solver.GetProperty("points").GetInt64() > 10);
        Assert.True(solver.GetProperty("rejected").GetInt64() >= 0);
        Assert.True(solver.GetProperty("newtonIterations").GetInt64() > 0);
        Assert.True(solver.GetProperty("wallSeconds").GetDouble() > 0);
        Assert.Equal("rc", json.RootElement.GetProperty("title").GetString());
        Assert.Empty(Directory.GetFiles(Out, ".*"));
    }

    [Fact]
    public void Only_what_print_names_is_written_and_differences_are_quoted()
    {
        Solve("two\nV1 in 0 9\nR1 in out 2k\nR2 out 0 1k\n.tran 1u 1m\n.print tran V(in,out) I(V1)\n.end");
        Assert.StartsWith("time,\"V(in,out)\",I(V1)\n", File.ReadAllText(Path.Combine(Out, "waveforms.csv")));
        Assert.Equal(6, Csv("waveforms.csv").Rows[^1][1], 9);
    }

    [Fact]
    public void Each_card_gets_a_file_and_the_transient_the_plain_name()
    {
        var run = Solve("""
            several
            V1 in 0 DC 9 AC 1
            I1 0 out 0
            R1 in out 2k
            R2 out 0 1k
            C1 out 0 1u
            .op
            .dc V1 0 9 4.5
            .dc V1 0 9 9 I1 0 3m 3m
            .ac lin 1 238.7324146378430 238.7324146378430
            .tran 1u 1m
            .end
            """);
        Assert.Equal(0, run.Code);
        Assert.Contains("waveforms-dc-2.csv", run.Output);

        var op = Csv("waveforms-op.csv");
        Assert.Equal(["V(in)", "V(out)", "I(V1)"], op.Header);
        Assert.Equal(3, Assert.Single(op.Rows)[1], 9);

        var dc = Csv("waveforms-dc.csv");
        Assert.Equal("V1", dc.Header[0]);
        Assert.Equal([0, 4.5, 9], dc.Rows.Select(r => r[0]));
        Assert.Equal(1.5, dc.Rows[1][2], 9);

        // The second source runs in the outer loop; 2k || 1k at 3 mA lifts the output by 2 V.
        var two = Csv("waveforms-dc-2.csv");
        Assert.Equal(["V1", "I1", "V(in)", "V(out)", "I(V1)"], two.Header);
        Assert.Equal([(0, 0), (9, 0), (0, 3e-3), (9, 3e-3)], two.Rows.Select(r => (r[0], r[1])));
        Assert.Equal(5, two.Rows[3][3], 9);

        // At f = 1/(2 pi (2k || 1k) 1u) = 238.7 Hz the gain of 1/3 has fallen by sqrt 2 and lags by 45 degrees.
        var ac = Csv("waveforms-ac.csv");
        Assert.Equal(["frequency", "VM(in)", "VP(in)", "VM(out)", "VP(out)", "IM(V1)", "IP(V1)"], ac.Header);
        Assert.Equal(1 / (3 * Math.Sqrt(2)), ac.Rows[0][3], 9);
        Assert.Equal(-45, ac.Rows[0][4], 6);
        Assert.Equal(1e-3, Csv("waveforms.csv").Rows[^1][0]);
    }

    [Fact]
    public void The_same_input_gives_the_same_bytes_of_waveforms()
    {
        const string Text = "rlc\nV1 in 0 PULSE(0 1 1u 1u 1u 1m 2m)\nR1 in a 10\nL1 a out 1m\nC1 out 0 1u\nD1 out 0 dm\n.model dm D\n.tran 1u 3m\n.end";
        Solve(Text);
        var first = File.ReadAllBytes(Path.Combine(Out, "waveforms.csv"));
        Solve(Text);
        Assert.Equal(first, File.ReadAllBytes(Path.Combine(Out, "waveforms.csv")));
    }

    [Theory]
    [InlineData("R1 1 0 1k\n.foo", "3:1: There is no card .foo")]
    [InlineData("R1 1 0 1k", "no analysis")]
    [InlineData("V1 1 0 1\nV2 1 0 2\nR1 1 0 1\n.op", "V2")]
    [InlineData("V1 1 0 1\nR1 1 0 1\nC1 1 x 1u\nC2 x 0 1u\n.op", "x")]
    public void Bad_netlists_end_with_2_one_message_and_no_files(string body, string part)
    {
        var run = Solve($"t\n{body}\n.end");
        Assert.Equal(2, run.Code);
        Assert.Contains(part, run.Error);
        Assert.Contains("board.cir", run.Error);
        Assert.DoesNotContain("   at ", run.Error);
        Assert.Empty(run.Output);
        Assert.False(Directory.Exists(Out));
    }

    [Fact]
    public void An_unreadable_file_is_bad_input()
    {
        var missing = Shell.Run("solve", Path.Combine(folder, "none.cir"), "--out", Out);
        Assert.Equal(2, missing.Code);
        Assert.Contains("none.cir: there is no such file", missing.Error);
        var directory = Shell.Run("solve", folder, "--out", Out);
        Assert.Equal(2, directory.Code);
        Assert.Contains("this is a folder", directory.Error);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("0.5")]
    [InlineData("much")]
    [InlineData("NaN")]
    public void An_accuracy_out_of_range_is_bad_input(string accuracy)
    {
        var run = Solve("t\nR1 1 0 1\n.op\n.end", "--accuracy", accuracy);
        Assert.Equal(2, run.Code);
        Assert.Contains($"--accuracy '{accuracy}'", run.Error);
        Assert.Contains("1e-8 to 0.1", run.Error);
    }

    [Fact]
    public void An_output_path_that_is_a_file_is_bad_input()
    {
        File.WriteAllText(Out, "keep");
        var run = Solve("t\nR1 1 0 1\nV1 1 0 1\n.op\n.end");
        Assert.Equal(2, run.Code);
        Assert.Contains("this is a file", run.Error);
        Assert.Equal("keep", File.ReadAllText(Out));
    }

    [Fact]
    public void Cancelling_ends_with_130_and_leaves_no_files()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();
        var file = Write("t\nR1 1 0 1\nV1 1 0 SIN(0 1 1k)\n.tran 1u 1\n.end");
        var run = Shell.Run(cancelled.Token, "solve", file, "--out", Out);
        Assert.Equal(130, run.Code);
        Assert.False(Directory.Exists(Out));
    }

    // A switch that shorts the voltage that turned it on has no state at direct current.
    [Fact]
    public void A_solver_that_gives_up_ends_with_3_and_says_where()
    {
        var run = Solve("buzzer\nV1 s 0 5\nR1 s a 1k\nS1 a 0 a 0 m\n.model m SW(RON=1 VT=2 VH=1)\n.op\n.end");
        Assert.Equal(3, run.Code);
        Assert.Contains("S1", run.Error);
        Assert.False(Directory.Exists(Out));
    }

    private string Write(string text)
    {
        var file = Path.Combine(folder, "board.cir");
        File.WriteAllText(file, text);
        return file;
    }

    private Shell.Outcome Solve(string text, params string[] more) => Shell.Run(["solve", Write(text), "--out", Out, .. more]);

    private (string[] Header, double[][] Rows) Csv(string name)
    {
        var lines = File.ReadAllLines(Path.Combine(Out, name));
        return (lines[0].Split(','), [.. lines.Skip(1).Select(l => l.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray())]);
    }
}
