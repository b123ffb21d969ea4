using System.Text.Json;

namespace BoardSim.Reports.Tests.Results;

public sealed class ResultWriterTests : IDisposable
{
    private readonly string folder = Sample.TemporaryFolder();

    private string Out => Path.Combine(folder, "out");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Everything_is_in_one_folder_and_nothing_beside_it()
    {
        var files = ResultWriter.Write(SampleRun.Create(), Out);
        Assert.Equal(
            [
                "CAUTION.txt", "circuit-aged.cir", "circuit.cir", "figures/CAUTION.txt", "figures/bars.png", "figures/bars.svg", "figures/sweep.png",
                "figures/sweep.svg", "figures/waveforms.png", "figures/waveforms.svg", "report.html", "result.json", "sweep.csv", "waveforms.csv",
            ],
            files);
        Assert.Equal(files, Listing());
        Assert.Equal([Out], Directory.GetFileSystemEntries(folder));
    }

    [Fact]
    public void A_second_run_gives_the_same_bytes_but_for_the_wall_clock()
    {
        ResultWriter.Write(SampleRun.Create(wallSeconds: 0.25), Out);
        var other = Path.Combine(folder, "other");
        ResultWriter.Write(SampleRun.Create(wallSeconds: 0.5), other);
        foreach (var name in Listing())
        {
            var (one, two) = (File.ReadAllText(Path.Combine(Out, name)), File.ReadAllText(Path.Combine(other, name)));
            if (name == "result.json")
            {
                Assert.NotEqual(one, two);
                Assert.Equal(one.Replace("\"wallSeconds\": 0.75", "", StringComparison.Ordinal), two.Replace("\"wallSeconds\": 1.5", "", StringComparison.Ordinal));
            }
            else
            {
                Assert.Equal(one, two);
            }
        }
    }

    [Fact]
    public void The_result_has_readings_metrics_expectations_evidence_cautions_and_events()
    {
        ResultWriter.Write(SampleRun.Create(), Out);
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Out, "result.json")));
        var root = document.RootElement;
        var aged = root.GetProperty("conditions")[1];
        Assert.Equal(141, aged.GetProperty("readings")[0].GetProperty("value").GetDouble());
        Assert.Equal("primary return", aged.GetProperty("readings")[0].GetProperty("reference").GetString());
        Assert.Equal("V", aged.GetProperty("metrics")[0].GetProperty("unit").GetString());
        Assert.Equal("greatest less least value", aged.GetProperty("metrics")[0].GetProperty("definition").GetString());
        Assert.Equal("S1", aged.GetProperty("events")[0].GetProperty("part").GetString());
        Assert.Equal("circuit-aged.cir", aged.GetProperty("netlist").GetString());
        Assert.Equal(2e-12, aged.GetProperty("solver").GetProperty("worstKclResidual").GetDouble());
        Assert.False(root.GetProperty("allHold").GetBoolean());
        Assert.Equal(JsonValueKind.Null, root.GetProperty("expectations")[1].GetProperty("value").ValueKind);
        Assert.Equal(2, root.GetProperty("cautions").GetArrayLength());
        Assert.Equal(3 * 1234, root.GetProperty("solver").GetProperty("points").GetInt64());
        Assert.Equal(0.75, root.GetProperty("solver").GetProperty("wallSeconds").GetDouble());
        Assert.Equal(JsonValueKind.Null, root.GetProperty("sweep").GetProperty("series")[0].GetProperty("values")[2].ValueKind);
    }

    [Fact]
    public void A_later_run_replaces_its_files_and_no_others()
    {
        ResultWriter.Write(SampleRun.Create(), Out);
        File.WriteAllText(Path.Combine(Out, "notes.txt"), "mine");
        File.WriteAllText(Path.Combine(Out, "figures", "photo.jpg"), "mine too");
        Directory.CreateDirectory(Path.Combine(Out, "empty", "deep"));
        var second = SampleRun.Create(lineSide: false);
        ResultWriter.Write(second with { Sweep = null, Scenario = second.Scenario with { Figures = [second.Scenario.Figures[2]] } }, Out);
        Assert.Equal(
            [
                "circuit-aged.cir", "circuit.cir", "figures/bars.png", "figures/bars.svg", "figures/photo.jpg", "notes.txt", "report.html", "result.json",
                "waveforms.csv",
            ],
            Listing());
        Assert.Equal("mine", File.ReadAllText(Path.Combine(Out, "notes.txt")));
        Assert.Equal("mine too", File.ReadAllText(Path.Combine(Out, "figures", "photo.jpg")));
        Assert.True(Directory.Exists(Path.Combine(Out, "empty", "deep")));
        Assert.Equal([Out], Directory.GetFileSystemEntries(folder));
    }

    [Fact]
    public void An_empty_folder_and_folders_to_be_made_are_filled()
    {
        Directory.CreateDirectory(Out);
        ResultWriter.Write(SampleRun.Create(), Out);
        var deep = Path.Combine(folder, "a", "b", "c");
        ResultWriter.Check(deep);
        Assert.False(Directory.Exists(Path.Combine(folder, "a")));
        ResultWriter.Write(SampleRun.Create(), deep);
        Assert.True(File.Exists(Path.Combine(Out, "result.json")));
        Assert.True(File.Exists(Path.Combine(deep, "result.json")));
    }

    [Fact]
    public void A_folder_of_others_is_refused_and_left_alone()
    {
        Directory.CreateDirectory(Out);
        File.WriteAllText(Path.Combine(Out, "thesis.txt"), "years of work");
        File.WriteAllText(Path.Combine(Out, "result.json"), "{\"files\": [\"thesis.txt\"]}");
        var before = Assert.Throws<ReportException>(() => ResultWriter.Check(Out));
        var error = Assert.Throws<ReportException>(() => ResultWriter.Write(SampleRun.Create(), Out));
        Assert.Contains(Out, error.Message, StringComparison.Ordinal);
        Assert.Equal(before.Message, error.Message);
        Assert.Equal(["result.json", "thesis.txt"], Listing());
        Assert.Equal([Out], Directory.GetFileSystemEntries(folder));
    }

    [Fact]
    public void A_file_of_others_under_one_of_our_names_is_refused()
    {
        var first = SampleRun.Create();
        ResultWriter.Write(first with { Sweep = null, Scenario = first.Scenario with { Figures = [] } }, Out);
        File.WriteAllText(Path.Combine(Out, "sweep.csv"), "mine");
        var error = Assert.Throws<ReportException>(() => ResultWriter.Write(SampleRun.Create(), Out));
        Assert.Contains("sweep.csv", error.Message, StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(Out, "sweep.csv")));
    }

    [Fact]
    public void An_edited_list_cannot_lead_out_of_the_folder()
    {
        ResultWriter.Write(SampleRun.Create(), Out);
        var precious = Path.Combine(folder, "precious.txt");
        File.WriteAllText(precious, "keep");
        var json = Path.Combine(Out, "result.json");
        File.WriteAllText(json, File.ReadAllText(json).Replace("\"waveforms.csv\"", $"\"waveforms.csv\", \"../precious.txt\", \"{precious}\"", StringComparison.Ordinal));
        ResultWriter.Write(SampleRun.Create(), Out);
        Assert.Equal("keep", File.ReadAllText(precious));
    }

    [Fact]
    public void A_folder_that_cannot_be_written_gives_one_clear_error()
    {
        // Below a file no folder can be made, whoever asks.
        var file = Path.Combine(folder, "a-file");
        File.WriteAllText(file, "");
        var target = Path.Combine(file, "out");
        foreach (var attempt in (Action[])[() => ResultWriter.Check(target), () => ResultWriter.Write(SampleRun.Create(), target)])
        {
            var error = Assert.Throws<ReportException>(attempt);
            Assert.StartsWith($"'{target}' cannot be written", error.Message, StringComparison.Ordinal);
            Assert.DoesNotContain(".partial", error.Message, StringComparison.Ordinal);
        }

        var plain = Assert.Throws<ReportException>(() => ResultWriter.Write(SampleRun.Create(), file));
        Assert.Contains("is a file", plain.Message, StringComparison.Ordinal);
        Assert.Equal([file], Directory.GetFileSystemEntries(folder));
    }

    [Fact]
    public void A_figure_that_cannot_be_drawn_leaves_nothing_behind()
    {
        var run = SampleRun.Create(title: "看");
        Assert.Throws<ReportException>(() => ResultWriter.Write(run, Out));
        Assert.Empty(Directory.GetFileSystemEntries(folder));
    }

    [Fact]
    public void An_unwritable_picture_gives_one_clear_error()
    {
        var error = Assert.Throws<ReportException>(() => Sample.Figure().SavePng(Path.Combine(folder, "missing", "x.png")));
        Assert.Contains("x.png", error.Message, StringComparison.Ordinal);
    }

    private List<string> Listing() =>
        [.. Directory.GetFiles(Out, "*", SearchOption.AllDirectories).Select(path => Path.GetRelativePath(Out, path).Replace('\\', '/')).Order(StringComparer.Ordinal)];
}
