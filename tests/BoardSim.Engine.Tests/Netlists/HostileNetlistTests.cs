using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Text that is meant to hurt, or that a slip has blown up, is refused with a place and a reason, and nothing grows without bound on the way.</summary>
public class HostileNetlistTests
{
    [Theory]
    [InlineData("R1 1 0 1e999", 2, 8, "beyond the largest number")]
    [InlineData("R1 1 0 1e99999999999999999999", 2, 8, "beyond the largest number")]
    [InlineData("R1 1 0 1e308t", 2, 8, "beyond the largest number")]
    [InlineData("V1 1 0 -1e400", 2, 8, "beyond the largest number")]
    [InlineData("V1 1 0 DC NaN", 2, 11, "'NaN' is not a number")]
    [InlineData("V1 1 0 DC -nan", 2, 11, "'-nan' is not a number")]
    [InlineData("V1 1 0 DC inf", 2, 11, "'inf' is not a number")]
    [InlineData("V1 1 0 DC -Infinity", 2, 11, "'-Infinity' is not a number")]
    [InlineData("V1 1 0 DC \u221e", 2, 11, "is not a number")]
    [InlineData("R1 1 0 nan", 2, 8, "'nan' is neither a number nor the name of a model")]
    [InlineData("V1 1 0 1\n.dc V1 0 1 1p", 3, 12, "1E+12 points; more than 1E+06 are a slip")]
    [InlineData("V1 1 0 1\n.dc V1 -1e308 1e308 1", 3, 21, "more than 1E+06 are a slip")]
    [InlineData("V1 1 0 1\nI1 1 0 1\n.dc V1 0 1 1u I1 0 1 1u", 4, 1, "The sweep has 1E+12 points; more than 1E+06 are a slip")]
    [InlineData("V1 1 0 1\n.ac lin 1e12 1 1k", 3, 9, "whole number from 1 to 1E+06")]
    [InlineData("V1 1 0 1\n.ac dec 1e6 1u 1MEG", 3, 9, "1.2E+07 frequencies; more than 1E+06 are a slip")]
    [InlineData("V1 1 0 1\n.ac oct 1e6 1e-300 1e300", 3, 9, "frequencies; more than 1E+06 are a slip")]
    [InlineData("V1 1 0 1\n.tran 1p 1", 3, 7, "1E+12 intervals of 1p s; more than 1E+09 are a slip")]
    [InlineData("V1 1 0 1\n.tran 1e-300 1e300", 3, 7, "more than 1E+09 are a slip")]
    [InlineData("V1 1 0 1\n.tran 1u 1e999", 3, 10, "beyond the largest number")]
    public void Absurd_numbers_and_sweeps_are_refused_where_they_stand(string body, int line, int column, string part)
    {
        var finding = Assert.Single(Refused($"title\n{body}\n.end\n"));
        Assert.Contains(part, finding.Message, StringComparison.Ordinal);
        Assert.Equal((line, column), (finding.Line, finding.Column));
    }

    [Theory]
    [InlineData("X1 1 a\n.subckt a p\nR1 p 0 1\nX1 p a\n.ends", 5, "The subcircuit a contains itself by this call")]
    [InlineData("X1 1 a\n.subckt a p\nR1 p 0 1\nX1 p b\n.ends\n.subckt b p\nR1 p 0 1\nX1 p a\n.ends", 9, "The subcircuit a contains itself by this call")]
    [InlineData("X1 1 a\n.subckt a p\nX1 p b\n.ends\n.subckt b p\nX1 p c\n.ends\n.subckt c p\nX1 p b\n.ends", 10, "The subcircuit b contains itself by this call")]
    [InlineData("R1 1 0 1\n.subckt a p\nX1 p a\n.ends", 4, "The subcircuit a contains itself by this call")]
    public void A_circle_of_calls_is_refused_at_the_call_that_closes_it(string body, int line, string part)
    {
        var findings = Refused($"title\n{body}\n.end\n");
        Assert.Contains(findings, f => f.Line == line && f.Message.StartsWith(part, StringComparison.Ordinal));
    }

    // 60 calls of 60 calls of 60 parts are 216,000 parts from 200 lines.
    [Fact]
    public void Calls_that_multiply_are_refused() =>
        Assert.Contains("The circuit grows beyond 100000 parts", Assert.Single(Refused(Multiplying(levels: 2, calls: 60))).Message, StringComparison.Ordinal);

    // Two calls of two calls of two calls...: each level lengthens the names as well.
    [Fact]
    public void Names_that_grow_with_the_depth_of_calls_are_refused() =>
        Assert.Contains("The names of parts within calls grow beyond", Assert.Single(Refused(Multiplying(levels: 40, calls: 2))).Message, StringComparison.Ordinal);

    // Definitions that nobody calls are tried out as well, and each of them could stand for the largest circuit.
    [Fact]
    public void Definitions_that_nobody_calls_share_one_budget()
    {
        var lone = string.Concat(Enumerable.Range(0, 500).Select(k => $".subckt lone{k} p\n" + string.Concat(Enumerable.Range(0, 50).Select(c => $"X{c} p s2\n")) + ".ends\n"));
        var text = Multiplying(levels: 1, calls: 30).Replace(".end\n", $".subckt s2 p\n{string.Concat(Enumerable.Range(0, 60).Select(k => $"R{k} p 0 1\n"))}.ends\n{lone}.end\n", StringComparison.Ordinal);
        Assert.Contains(Refused(text), f => f.Message.Contains("grows beyond 100000 parts", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(60)]
    [InlineData(100_000)]
    public void Definitions_nested_too_deep_are_refused(int depth)
    {
        var text = "t\nR1 1 0 1\n" + string.Concat(Enumerable.Range(0, depth).Select(k => $".subckt s{k} p\n")) + string.Concat(Enumerable.Repeat(".ends\n", depth)) + ".end";
        Assert.Contains("Subcircuits nested more than 50 deep.", Assert.Single(Refused(text)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_of_a_hundred_megabytes_is_refused()
    {
        var finding = Assert.Single(Refused("t\nR1 1 0 " + new string('1', 100 << 20) + "\n.end\n"));
        Assert.Equal("The netlist has 104857615 characters; more than 16777216 are not read.", finding.Message);
    }

    [Fact]
    public void A_long_line_is_refused()
    {
        var finding = Assert.Single(Refused("t\nR1 1 0 1\n.print tran" + string.Concat(Enumerable.Repeat(" V(1)", 30_000)) + "\n.end\n"));
        Assert.Equal((3, "The line has 150011 characters; no netlist line has more than 100000."), (finding.Line, finding.Message));
    }

    [Fact]
    public void A_long_title_is_refused() =>
        Assert.Contains("no netlist line has more than 100000", Assert.Single(Refused(new string('x', 200_000) + "\nR1 1 0 1\n.end\n")).Message, StringComparison.Ordinal);

    // Looking for the nearest node takes the product of two lengths: with this word and such a node, ten gigabytes.
    [Fact]
    public void A_long_word_is_refused_before_anything_is_compared_with_it()
    {
        var findings = Refused($"t\nR1 {new string('a', 50_000)} 0 1\n.print tran V({new string('b', 50_000)})\n.end\n");
        Assert.Contains(findings, f => f is { Line: 2, Column: 4, Message: "A word of 50000 characters; no word of a netlist has more than 250." });
        Assert.Contains(findings, f => f.Line == 3);
    }

    [Fact]
    public void Hills_of_delimiters_are_no_work()
    {
        // Joined one by one, these would copy 5e9 characters.
        var netlist = NetlistReader.Read($"t\nR1 1 0 {new string('(', 90_000)}1k\n.print tran V{new string('(', 90_000)}1)\n.end\n");
        Assert.Equal(1e3, netlist.Circuit.Get<BoardSim.Engine.Devices.Resistor>("R1").Resistance);
    }

    [Fact]
    public void More_words_than_any_circuit_has_are_refused()
    {
        var text = "t\nR1 1 0 1\n" + string.Concat(Enumerable.Repeat(".options " + string.Concat(Enumerable.Repeat("a ", 40_000)) + "\n", 30)) + ".end\n";
        Assert.Contains(Refused(text), f => f.Message == "The netlist has more than 1000000 words.");
    }

    [Fact]
    public void A_flood_of_errors_ends_with_the_first_hundred()
    {
        var findings = Refused("t\n" + string.Concat(Enumerable.Range(0, 50_000).Select(k => $"F{k} 1 0 R{k} 1\n")) + ".end\n");
        Assert.Equal(101, findings.Count);
        Assert.StartsWith("Reading ended after 100 errors", findings[^1].Message, StringComparison.Ordinal);
        Assert.Equal(Enumerable.Range(2, 100), findings.Take(100).Select(f => f.Line));
    }

    [Fact]
    public void A_flood_of_remarks_ends_with_the_first_hundred()
    {
        var netlist = NetlistReader.Read("t\n" + string.Concat(Enumerable.Range(0, 1_000).Select(k => $"R{k} 1 0 1M\n")) + ".end\n");
        Assert.Equal(101, netlist.Remarks.Count);
        Assert.Equal("More than 100 remarks; the others are left out.", netlist.Remarks[^1].Message);
    }

    [Fact]
    public void A_terminal_list_of_thousands_is_read() =>
        Assert.Single(NetlistReader.Read($"t\nR1 1 0 1\n.subckt s {string.Join(' ', Enumerable.Range(1, 15_000))}\nR1 1 2 1\n.ends\n.end\n").Circuit.Devices);

    private static IReadOnlyList<NetlistFinding> Refused(string text) => Assert.Throws<NetlistException>(() => NetlistReader.Read(text)).Findings;

    private static string Multiplying(int levels, int calls)
    {
        var text = "t\nX1 1 s0\n";
        for (var k = 0; k < levels; k++)
        {
            text += $".subckt s{k} p\n{string.Concat(Enumerable.Range(1, calls).Select(c => $"X{c} p s{k + 1}\n"))}.ends\n";
        }

        return text + $".subckt s{levels} p\n{string.Concat(Enumerable.Range(1, calls).Select(c => $"R{c} p 0 1\n"))}.ends\n.end\n";
    }
}
