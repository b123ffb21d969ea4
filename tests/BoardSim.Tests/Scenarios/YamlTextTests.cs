using BoardSim.Scenarios.Text;

namespace BoardSim.Tests.Scenarios;

public class YamlTextTests
{
    private static (Node? Root, IReadOnlyList<string> Findings) Read(string text)
    {
        var findings = new Findings("a.yaml");
        var root = YamlText.Read(text, findings);
        return (root, [.. findings.InOrder.Select(f => f.ToString())]);
    }

    [Fact]
    public void Places_are_those_of_the_text()
    {
        var (root, findings) = Read("title: Ripple\nrun:\n  stop: 20 ms\n");

        Assert.Empty(findings);
        var run = Assert.IsType<MapNode>(Assert.IsType<MapNode>(root).Find("run")!.Value);
        var stop = run.Find("stop")!;
        Assert.Equal(new Place(3, 3), stop.Key.Place);
        Assert.Equal(new Place(3, 9), stop.Value.Place);
    }

    [Fact]
    public void What_is_missing_at_the_end_stands_there()
    {
        var (root, findings) = Read("---");
        Assert.Empty(findings);
        Assert.Equal(new Place(1, 4), root!.Place);
    }

    // YAML 1.2 (2021), section 10.3, would resolve these to a number, a boolean and a null; a scenario takes them as they are written.
    [Theory]
    [InlineData("1e3")]
    [InlineData("0x10")]
    [InlineData("yes")]
    [InlineData("true")]
    [InlineData("4k7")]
    public void Nothing_is_interpreted(string text)
    {
        var (root, _) = Read($"a: {text}\n");

        Assert.Equal(text, Assert.IsType<TextNode>(((MapNode)root!).Find("a")!.Value).Text);
    }

    [Fact]
    public void Every_duplicate_key_is_told_with_both_places()
    {
        var (_, findings) = Read("a: 1\nb: 2\na: 3\nc:\n  d: 1\n  d: 2\n");

        Assert.Equal(
            ["a.yaml:3:1: the key \"a\" stands here for the second time; the first is on line 1", "a.yaml:6:3: the key \"d\" stands here for the second time; the first is on line 5"],
            findings);
    }

    [Theory]
    [InlineData("a: &x 1\nb: *x\n", "a.yaml:1:4:", "anchor")]
    [InlineData("a: *x\n", "a.yaml:1:4:", "alias")]
    [InlineData("a: !!int 5\n", "a.yaml:1:4:", "tag")]
    [InlineData("a: 1\n---\nb: 2\n", "a.yaml:2:1:", "second document")]
    [InlineData("[a]: 1\n", "a.yaml:1:1:", "a key has to be a text")]
    [InlineData("a: [1, 2\nb: 3\n", "a.yaml:1:", "well-formed")]
    [InlineData("a: \"b\n", "a.yaml:", "well-formed")]
    [InlineData("a:\n\t- b\n", "a.yaml:1:1:", "well-formed")]
    [InlineData("", "a.yaml:", "empty")]
    [InlineData("# only a comment\n", "a.yaml:", "empty")]
    public void What_is_not_let_in_is_told_with_its_place(string text, string place, string reason)
    {
        var (_, findings) = Read(text);

        var finding = Assert.Single(findings);
        Assert.StartsWith(place, finding, StringComparison.Ordinal);
        Assert.Contains(reason, finding, StringComparison.Ordinal);
    }

    // The doubling aliases of W3C note "XML entity expansion" in YAML's words; nine lines would become a billion items.
    [Fact]
    public void A_bomb_of_aliases_does_not_go_off()
    {
        var lines = new List<string> { "a0: &a0 [x, x, x, x, x, x, x, x, x]" };
        for (var i = 1; i < 10; i++)
        {
            lines.Add($"a{i}: &a{i} [{string.Join(", ", Enumerable.Repeat($"*a{i - 1}", 9))}]");
        }

        var (root, findings) = Read(string.Join('\n', lines));

        Assert.Null(root);
        Assert.Contains("anchors and aliases are not used", Assert.Single(findings), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[", "]")]
    [InlineData("{a: ", "}")]
    public void Deep_nesting_is_refused_without_a_crash(string open, string close)
    {
        const int depth = 50_000;
        var text = string.Concat(Enumerable.Repeat(open, depth)) + string.Concat(Enumerable.Repeat(close, depth));

        var (root, findings) = Read("a: " + (text.Length <= YamlText.LongestFile ? text : text[..(YamlText.LongestFile - 10)]));

        Assert.Null(root);
        Assert.Contains("nested deeper", Assert.Single(findings), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_beyond_the_limit_is_refused()
    {
        var (root, findings) = Read(new string('#', YamlText.LongestFile + 1));

        Assert.Null(root);
        Assert.Contains("longer than 256 KiB", Assert.Single(findings), StringComparison.Ordinal);
    }
}
