using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace BoardSim.Notebooks.Tests;

/// <summary>The rendered notebooks in the repository. Keys and types are those of the Jupyter notebook format 4.5.</summary>
public partial class RenderedNotebookTests
{
    private static readonly string Folder = Path.Combine(Root(), "notebooks");

    public static TheoryData<string> Sources => [.. Directory.GetFiles(Folder, "??-*.cs").Select(path => Path.GetFileNameWithoutExtension(path)!).Order(StringComparer.Ordinal)];

    [Fact]
    public void Sources_and_rendered_forms_come_in_pairs() => Assert.Equal(
        Directory.GetFiles(Folder, "??-*.cs").Select(path => Path.GetFileNameWithoutExtension(path)).Order(StringComparer.Ordinal),
        Directory.GetFiles(Folder, "*.ipynb").Select(path => Path.GetFileNameWithoutExtension(path)).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Sources))]
    public void Is_not_older_than_its_source(string name)
    {
        var source = RenderedNotebook.Fingerprint(File.ReadAllText(Path.Combine(Folder, name + ".cs")));
        var stored = (string?)Notebook(name)["metadata"]!["boardsim"]!["sha256"];
        Assert.True(source == stored, $"{name}.cs has changed; run: dotnet run -c Release --project notebooks/converter -- render {name}");
    }

    [Theory]
    [MemberData(nameof(Sources))]
    public void Is_a_notebook_of_its_source(string name)
    {
        var notebook = Notebook(name);
        Assert.Equal((4, 5), ((int)notebook["nbformat"]!, (int)notebook["nbformat_minor"]!));
        Assert.Equal((".net-csharp", "C#"), ((string?)notebook["metadata"]!["kernelspec"]!["name"], (string?)notebook["metadata"]!["kernelspec"]!["language"]));
        var cells = notebook["cells"]!.AsArray();
        Assert.Equal(cells.Count, cells.Select(cell => (string)cell!["id"]!).Distinct().Count());
        var source = PercentFormat.Read(File.ReadAllText(Path.Combine(Folder, name + ".cs")), name);
        Assert.Equal(
            source.Cells.Select(cell => string.Join('\n', cell.Lines)),
            cells.Where(cell => (string)cell!["id"]! != "setup").Select(cell => string.Concat(cell!["source"]!.AsArray().Select(line => (string)line!))));
    }

    [Theory]
    [MemberData(nameof(Sources))]
    public void Shows_figures_and_keeps_what_it_expects(string name)
    {
        var outputs = Notebook(name)["cells"]!.AsArray().SelectMany(cell => cell!["outputs"]?.AsArray() ?? []).ToList();
        var figures = outputs.Select(output => (string?)output!["data"]?["image/png"]).OfType<string>().ToList();
        Assert.True(figures.Count >= 6, $"{figures.Count} figures");
        Assert.All(figures, figure => Assert.Equal([0x89, 0x50, 0x4E, 0x47], Convert.FromBase64String(figure)[..4]));
        var printed = PrintedNumbers.Of(File.ReadAllText(Path.Combine(Folder, name + ".ipynb")));
        Assert.Contains("Holds: ", printed, StringComparison.Ordinal);
        Assert.DoesNotContain("DOES NOT HOLD", printed, StringComparison.Ordinal);
        Assert.True(new FileInfo(Path.Combine(Folder, name + ".ipynb")).Length < 1_500_000);
    }

    [Theory]
    [MemberData(nameof(Sources))]
    public void Holds_no_address_and_no_path_of_a_machine(string name)
    {
        // Pictures are bytes in letters, in which any short word can turn up by chance.
        var text = Picture().Replace(File.ReadAllText(Path.Combine(Folder, name + ".ipynb")), "");
        var found = Machine().Match(text);
        Assert.False(found.Success, $"{name}.ipynb holds '{found.Value}'");
    }

    [Theory]
    [InlineData("listening on 10.0.0.7")]
    [InlineData("http://localhost:1024/")]
    [InlineData("at /home/anybody/x.cs")]
    [InlineData(@"in C:\\Users\\anybody")]
    [InlineData("probingAddresses")]
    public void Finds_an_address_or_a_path(string text) => Assert.Matches(Machine(), text);

    private static JsonNode Notebook(string name) => JsonNode.Parse(File.ReadAllText(Path.Combine(Folder, name + ".ipynb")))!;

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "BoardSim.sln")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new DirectoryNotFoundException("The tests do not run within the repository.");
    }

    [GeneratedRegex("\"image/png\": \"[^\"]*\"")]
    private static partial Regex Picture();

    [GeneratedRegex(@"\b\d{1,3}\.\d{1,3}\.\d{1,3}\.\d{1,3}\b|https?://|localhost|prob\w*Address|(?<![\w.])/(home|root|tmp|usr|var|Users|work|mnt)/|[A-Za-z]:\\\\", RegexOptions.IgnoreCase)]
    private static partial Regex Machine();
}
