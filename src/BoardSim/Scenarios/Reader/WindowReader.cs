using System.Globalization;
using System.Text.RegularExpressions;
using BoardSim.Quantities;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads stretches of time: <c>10 ms to 30 ms</c>, <c>from 100 ms</c>, <c>last 2 line cycles</c>, <c>last 10 switching cycles</c>, <c>whole run</c>.</summary>
internal static partial class WindowReader
{
    /// <summary>What a window may look like, for messages and the schema.</summary>
    public const string Shape = "10 ms to 30 ms, from 100 ms, last 2 line cycles, last 10 switching cycles, or whole run";

    /// <summary>The pattern of a window, for the schema.</summary>
    public const string Pattern = @"^(\S.* to \S.*|from \S.*|last [0-9]+ (line|switching) cycles?|whole run)$";

    private const int MostCycles = 100_000;

    private const int LongestWindow = 130;

    /// <summary>The window; the whole run when the key is missing or the text is wrong, which is then noted.</summary>
    public static WindowSpec Read(Section section, string name, RecordedTime? recorded)
    {
        if (section.TextNode(name) is not { } node)
        {
            return WindowSpec.Whole;
        }

        if (node.Text.Length > LongestWindow)
        {
            section.Findings.Add(node, $"\"{Findings.Quote(node.Text)}\" is not a stretch of time; write {Shape}");
            return WindowSpec.Whole;
        }

        if (node.Text == "whole run")
        {
            return WindowSpec.Whole;
        }

        if (Cycles().Match(node.Text) is { Success: true } cycles)
        {
            var kind = cycles.Groups["kind"].Value == "line" ? WindowKind.LastLineCycles : WindowKind.LastSwitchingCycles;
            if (int.TryParse(cycles.Groups["count"].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var count) && count is >= 1 and <= MostCycles)
            {
                return Checked(node, new WindowSpec(kind, Cycles: count), section.Findings, recorded);
            }

            section.Findings.Add(node, $"\"{node.Text}\": the number of cycles has to lie between 1 and {MostCycles}");
            return WindowSpec.Whole;
        }

        if (Between().Match(node.Text) is { Success: true } times)
        {
            return Times(node, Part(node, times.Groups["from"]), Part(node, times.Groups["to"]), section.Findings, recorded);
        }

        if (From().Match(node.Text) is { Success: true } open)
        {
            return Times(node, Part(node, open.Groups["from"]), null, section.Findings, recorded);
        }

        section.Findings.Add(node, $"\"{Findings.Quote(node.Text)}\" is not a stretch of time; write {Shape}");
        return WindowSpec.Whole;
    }

    private static WindowSpec Times(TextNode node, TextNode from, TextNode? to, Findings findings, RecordedTime? recorded)
    {
        var start = QuantityText.Read(from, Unit.Second, findings);
        var end = to is null ? double.MaxValue : QuantityText.Read(to, Unit.Second, findings);
        if (start is null || end is null)
        {
            return WindowSpec.Whole;
        }

        if (start < 0 || end <= start)
        {
            findings.Add(node, $"\"{node.Text}\" is empty; a stretch of time starts at 0 s or later and ends after it starts");
            return WindowSpec.Whole;
        }

        return Checked(node, new WindowSpec(WindowKind.Times, start.Value, end.Value), findings, recorded);
    }

    private static WindowSpec Checked(TextNode node, WindowSpec window, Findings findings, RecordedTime? recorded)
    {
        if (recorded?.Problem(window) is { } problem)
        {
            findings.Add(node, $"\"{node.Text}\": {problem}");
        }

        return window;
    }

    private static TextNode Part(TextNode node, Group group) =>
        node with { Text = group.Value, Place = node.Place with { Column = node.Place.Column + group.Index + (node.IsPlain ? 0 : 1) } };

    [GeneratedRegex(@"^last (?<count>[0-9]+) (?<kind>line|switching) cycles?$", RegexOptions.ExplicitCapture)]
    private static partial Regex Cycles();

    [GeneratedRegex(@"^(?<from>\S.*?) to (?<to>\S.*)$", RegexOptions.ExplicitCapture)]
    private static partial Regex Between();

    [GeneratedRegex(@"^from (?<from>\S.*)$", RegexOptions.ExplicitCapture)]
    private static partial Regex From();
}
