using System.Globalization;
using System.Text.RegularExpressions;
using BoardSim.Scenarios;
using BoardSim.Tests.Scenarios;

namespace BoardSim.Tests.Readme;

/// <summary>What README.md shows is what compiles and runs.</summary>
public partial class ReadmeTests
{
    private const string Fence = "```";

    [Fact]
    public void The_example_is_the_one_that_is_compiled()
    {
        var readme = Block(File.ReadAllText(Path.Combine(Repository.Root, "README.md")), "csharp");
        var source = File.ReadAllText(Path.Combine(Repository.Root, "tests", "BoardSim.Tests", "Readme", "ReadmeExample.cs"));

        var imports = readme.TakeWhile(line => line.Length > 0).ToList();
        var statements = readme.Skip(imports.Count + 1).ToList();

        Assert.Equal(source.Split('\n').Where(line => line.StartsWith("using ", StringComparison.Ordinal)), imports);
        Assert.Equal(Between(source, "// begin", "// end"), statements);
        Assert.Equal(10, statements.Count);
    }

    // Common practice, no source: a 120 V line charges the bulk capacitor to about 170 V at the crests, so that the mean lies
    // between 150 V and 170 V; a dried-out capacitor shows as ripple.
    [Fact]
    public void The_example_tells_the_aged_capacitor_from_the_healthy_one()
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        ReadmeExample.Run(output);

        var lines = output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(2, lines.Length);
        var (healthy, aged) = (Numbers(lines[0]), Numbers(lines[1]));
        Assert.InRange(healthy.Mean, 150, 170);
        Assert.True(aged.Ripple > 2 * healthy.Ripple, output.ToString());
        Assert.All(lines, line => Assert.EndsWith("against primary return", line.TrimEnd(), StringComparison.Ordinal));
    }

    [Fact]
    public void The_output_that_is_shown_is_what_the_example_writes()
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        ReadmeExample.Run(output);
        var written = output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var shown = Block(File.ReadAllText(Path.Combine(Repository.Root, "README.md")), "text");

        // The example runs at the usual accuracy of 1e-3; a per cent leaves room for another processor's last digits.
        Assert.Equal(written.Length, shown.Count);
        foreach (var (now, then) in written.Zip(shown))
        {
            Assert.Equal(Number().Replace(now.TrimEnd(), "#"), Number().Replace(then, "#"));
            Assert.InRange(Numbers(then).Mean / Numbers(now).Mean, 0.99, 1.01);
            Assert.InRange(Numbers(then).Ripple / Numbers(now).Ripple, 0.99, 1.01);
        }
    }

    [Fact]
    public void The_scenario_that_is_shown_runs_and_holds()
    {
        var text = string.Join('\n', Block(File.ReadAllText(Path.Combine(Repository.Root, "README.md")), "yaml"));
        var result = ScenarioRunner.Run(ScenarioFile.Parse(text, "shown.yaml"));
        Assert.NotEmpty(result.Expectations);
        Assert.All(result.Expectations, e => Assert.True(e.Holds, e.Text));
    }

    private static List<string> Block(string readme, string language)
    {
        var opening = $"{Fence}{language}\n";
        var start = readme.IndexOf(opening, StringComparison.Ordinal);
        Assert.True(start >= 0, $"README.md has no block of {language}");
        var end = readme.IndexOf("\n" + Fence, start, StringComparison.Ordinal);
        return [.. readme[(start + opening.Length)..end].Split('\n')];
    }

    private static List<string> Between(string source, string from, string to)
    {
        var lines = source.Split('\n').SkipWhile(line => line.Trim() != from).Skip(1).TakeWhile(line => line.Trim() != to).ToList();
        var indent = lines[0].Length - lines[0].TrimStart().Length;
        return [.. lines.Select(line => line.Length > indent ? line[indent..] : line.TrimStart()).Reverse().SkipWhile(line => line.Length == 0).Reverse()];
    }

    private static (double Mean, double Ripple) Numbers(string line)
    {
        var found = Number().Matches(line).Select(m => double.Parse(m.Value, CultureInfo.InvariantCulture)).ToList();
        return (found[0], found[1]);
    }

    [GeneratedRegex(@"\d+\.\d")]
    private static partial Regex Number();
}
