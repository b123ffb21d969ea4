using System.Text;
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
using BoardSim.Quantities;

namespace BoardSim.Reports.Catalogue;

/// <summary>All blocks as one page of Markdown: values with units and legal ranges, parts, ports, test points, and faults with their mechanisms.
/// What is there under one choice only is listed as well.</summary>
public static class CataloguePage
{
    /// <summary>The page, lines separated by line feeds; the same bytes on every machine.</summary>
    public static string ToMarkdown()
    {
        var text = new StringBuilder();
        text.Append("# Blocks and their faults\n\nWritten by the command `catalogue`; a test fails when it is out of date.\n\n");
        foreach (var caution in Cautions.LineSide)
        {
            text.Append("> ").Append(caution).Append("\n>\n");
        }

        text.Append("\nThe cautions above hold for every block that is marked **line side**.\n\n");
        Table(text, ["block", "what it is", "faults"], BlockCatalogue.All.Select(b => new[] { $"[{b.Id}](#{b.Id})", b.Title, $"{FaultsOf(b).Count}" }));
        foreach (var block in BlockCatalogue.All)
        {
            Block(text, block);
        }

        return text.ToString();
    }

    private static void Block(StringBuilder text, Block block)
    {
        var boards = BlockVariants.Of(block.Id).Select(v => v.Build()).ToList();
        text.Append("\n## ").Append(block.Id).Append("\n\n").Append(block.Title).Append(block.LineSide ? ". **Line side.**" : ".").Append("\n\n").Append(block.Summary).Append("\n\n```text\n")
            .Append(block.Topology.ReplaceLineEndings("\n").TrimEnd()).Append("\n```\n");
        Section(text, "Values", ["value", "usual", "legal", "what it is"], block.Values.Select(v => new[] { $"`{v.Key}`", Usual(v), Legal(v), v.Description + (v.OnBenchOnly ? " (of the bench)" : "") }));
        Section(text, "Ports", ["port", "what is connected there"], block.Ports.Select(p => new[] { $"`{p.Name}`", p.Description + (p.IsOptional ? " (optional)" : "") }));
        Section(text, "Parts", ["part", "kind", "between"], Each(boards, b => b.Circuit.Devices, d => d.Name).Select(d => new[] { $"`{d.Name}`", Kind(d) + (block.BenchParts.Contains(d.Name, StringComparer.OrdinalIgnoreCase) ? " (of the bench)" : ""), string.Join(", ", d.Nodes) }));
        Section(text, "Test points", ["test point", "against", "what is there"], Each(boards, b => b.TestPoints, p => p.Name).Select(p => new[] { $"`{p.Name}`", p.ReferenceName, p.Description }));
        Section(text, "Currents", ["current", "what it is"], Each(boards, b => b.Currents, c => c.Name).Select(c => new[] { $"`{c.Name}`", c.Description }));
        Section(text, "Readouts", ["readout", "unit", "what it is"], Each(boards, b => b.Readouts, r => r.Name).Select(r => new[] { $"`{r.Name}`", r.Unit, r.Description }));
        Section(text, "States", ["state", "unit", "what it is"], Each(boards, b => b.States, s => s.Name).Select(s => new[] { $"`{s.Name}`", s.Unit, s.Description }));
        Section(text, "Faults", ["fault", "severity", "what it is", "how it comes about"], FaultsOf(block).Select(f => new[] { $"`{f.Id}`", Severity(f.Severity), f.Title, f.Mechanism }));
    }

    private static List<FaultDefinition> FaultsOf(Block block) => [.. BlockVariants.Of(block.Id).SelectMany(v => v.Faults).DistinctBy(f => f.Id)];

    private static IEnumerable<T> Each<T>(IEnumerable<Board> boards, Func<Board, IEnumerable<T>> items, Func<T, string> name) => boards.SelectMany(items).DistinctBy(name, StringComparer.OrdinalIgnoreCase);

    private static void Section(StringBuilder text, string title, string[] heads, IEnumerable<string[]> rows)
    {
        var all = rows.ToList();
        if (all.Count > 0)
        {
            text.Append("\n### ").Append(title).Append("\n\n");
            Table(text, heads, all);
        }
    }

    private static void Table(StringBuilder text, string[] heads, IEnumerable<string[]> rows)
    {
        text.Append("| ").AppendJoin(" | ", heads).Append(" |\n|").Insert(text.Length, "---|", heads.Length).Append('\n');
        foreach (var row in rows)
        {
            text.Append("| ").AppendJoin(" | ", row.Select(cell => cell.Replace("|", "\\|", StringComparison.Ordinal))).Append(" |\n");
        }
    }

    /// <summary>Name of the part's class in words: VoltageSource is a voltage source.</summary>
    private static string Kind(Device device)
    {
        var words = new StringBuilder();
        foreach (var c in device.GetType().Name)
        {
            words.Append(char.IsUpper(c) && words.Length > 0 ? " " : "").Append(char.ToLowerInvariant(c));
        }

        return words.ToString();
    }

    private static string Usual(ValueDefinition value) => value.Default switch
    {
        double number => Quantity.FormatShort(number, Unit.Find(value.Unit)!),
        null => "not set",
        var word => word.ToString()!,
    };

    private static string Legal(ValueDefinition value) => value.Kind == ValueKind.Choice
        ? string.Join(", ", value.Choices)
        : $"{Quantity.FormatShort(value.Minimum, Unit.Find(value.Unit)!)} to {Quantity.FormatShort(value.Maximum, Unit.Find(value.Unit)!)}";

    private static string Severity(SeverityDefinition? severity)
    {
        if (severity is null)
        {
            return "present";
        }

        var unit = Unit.Find(severity.Unit)!;
        string Show(double value) => Quantity.FormatShort(value, unit);
        return $"{severity.Description.TrimEnd('.')}: {Show(severity.Minimum)} to {Show(severity.Maximum)}, usual {Show(severity.Default)}";
    }
}
