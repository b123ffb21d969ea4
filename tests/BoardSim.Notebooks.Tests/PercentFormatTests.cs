namespace BoardSim.Notebooks.Tests;

/// <summary>The percent format as editors read it: a comment of two per cent signs starts a cell (common practice, no standard).</summary>
public class PercentFormatTests
{
    [Fact]
    public void Splits_directives_prose_and_code()
    {
        var source = PercentFormat.Read("#:project ../a.csproj\n\n// %% [markdown]\n// # Title\n//\n// Text\n\n// %%\n\nvar a = 1;\n\nvar b = 2;\n\n", "x.cs");
        Assert.Equal(["#:project ../a.csproj"], source.Directives);
        Assert.Equal([CellKind.Prose, CellKind.Code], source.Cells.Select(cell => cell.Kind));
        Assert.Equal(["# Title", "", "Text"], source.Cells[0].Lines);
        Assert.Equal(["var a = 1;", "", "var b = 2;"], source.Cells[1].Lines);
    }

    [Fact]
    public void Line_ends_of_another_system_change_nothing()
    {
        var source = PercentFormat.Read("// %%\r\nvar a = 1;\r\n", "x.cs");
        Assert.Equal(["var a = 1;"], Assert.Single(source.Cells).Lines);
    }

    [Theory]
    [InlineData("// %% markdown\n// text", "x.cs(1)")]
    [InlineData("var a = 1;\n// %%\n", "x.cs(1)")]
    [InlineData("// %% [markdown]\n// fine\nvar a = 1;", "x.cs(3)")]
    public void Names_the_line_that_is_wrong(string text, string where) =>
        Assert.StartsWith(where, Assert.Throws<NotebookException>(() => PercentFormat.Read(text, "x.cs")).Message, StringComparison.Ordinal);

    [Fact]
    public void Marked_copy_keeps_usings_first_and_finds_the_project()
    {
        var copy = MarkedCopy.Write(PercentFormat.Read("#:project ../a.csproj\n// %%\nusing A;\n\nB.C();\n// %%\nB.D();\n", "x.cs"), "../n");
        Assert.Equal("#:project ../n/../a.csproj\nusing A;\n\nSystem.Console.WriteLine(\"\\u001ecell 0\");\nB.C();\nSystem.Console.WriteLine(\"\\u001ecell 1\");\nB.D();\nSystem.Console.WriteLine(\"\\u001eend\");\n", copy);
    }

    [Fact]
    public void Output_goes_to_the_cell_that_printed_it()
    {
        var cells = CellOutput.Sort("\u001ecell 2\na\nb\nfigure: f/one.png\nc\n\u001ecell 5\nd\n\u001eend\n", "x");
        Assert.Equal([new("a\nb\n", null), new("", "f/one.png"), new("c\n", null)], cells[2]);
        Assert.Equal([new("d\n", null)], cells[5]);
    }

    [Fact]
    public void A_run_that_breaks_off_is_no_run() =>
        Assert.Throws<NotebookException>(() => CellOutput.Sort("\u001ecell 2\na\n", "x"));
}
