using BoardSim.Blocks;
using BoardSim.Designs;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads a board file from nodes. Every part is read even when others are wrong, so that all findings come at once.</summary>
internal static class BoardReader
{
    /// <summary>The board's plan; null when the root is no mapping. It is of use only when nothing was found wrong.</summary>
    public static BoardPlan? Read(Node node, string id, Findings findings)
    {
        // A key that is missing is found when the section is opened.
        var before = findings.Count;
        if (Section.Open(node, BoardFormat.Root, findings) is not { } root)
        {
            return null;
        }

        var plan = new BoardPlan
        {
            Id = id,
            Title = root.Text("title") ?? "",
            About = root.Text("about") ?? "",
            ZeroNet = Net(root, "zero-net"),
            Ambient = root.Quantity("ambient") ?? 298.15,
            Blocks = [.. root.Named("blocks").Select(entry => Block(entry, findings)).OfType<PlacedBlock>()],
            Parts = [.. root.Named("parts").Select(entry => Part(entry, findings)).OfType<PlacedPart>()],
            NetPoints = [.. root.Named("test-points").Select(entry => Point(entry, findings)).OfType<TestPoint>()],
        };
        var places = root.Named("blocks").Select(e => e.Key.Text).ToHashSet(StringComparer.Ordinal);
        foreach (var (part, _) in root.Named("parts").Where(e => places.Contains(e.Key.Text)))
        {
            findings.Add(part, $"{part.Text} is the name of a block already; give the part a name of its own");
        }

        if (findings.Count == before)
        {
            CheckWhole(root, plan);
        }

        return plan;
    }

    private static void CheckWhole(Section root, BoardPlan plan)
    {
        IReadOnlyList<string> problems;
        try
        {
            problems = plan.Make().Problems();
        }
        catch (BlockException wrong)
        {
            problems = wrong.Findings;
        }

        foreach (var problem in problems)
        {
            // What begins with a block's name is told where the block stands.
            var block = root.Named("blocks").FirstOrDefault(e => problem.StartsWith($"{e.Key.Text}: ", StringComparison.Ordinal) || problem.StartsWith($"{e.Key.Text}.", StringComparison.Ordinal));
            if (block is not null)
            {
                root.Findings.Add(block.Key, problem.TrimEnd('.'));
            }
            else
            {
                root.Note("blocks", problem.TrimEnd('.'));
            }
        }
    }

    private static PlacedBlock? Block(Entry entry, Findings findings)
    {
        if (Section.Open(entry.Value, BoardFormat.Block, findings) is not { } section || section.TextNode("block") is not { } id)
        {
            return null;
        }

        if (BlockInHand.Find(id.Text) is not { } found)
        {
            findings.AddUnknown(id, "block", BlockCatalogue.All.Select(b => b.Id));
            return null;
        }

        // A value of the bench has no meaning here: it is not among the names that are known.
        var onBoard = found.Block.Values.Where(v => !v.OnBenchOnly).ToList();
        var values = new Dictionary<string, object>(StringComparer.Ordinal);
        if (section.Node("values") is MapNode map)
        {
            foreach (var key in map.Entries.Select(e => e.Key).Where(k => found.Block.Values.Any(v => v.OnBenchOnly && v.Key == k.Text)))
            {
                findings.Add(key, $"{key.Text} is a value of the bench of {id.Text}; on a board, what is wired to the block takes its place");
            }
        }

        foreach (var setting in ValuesReader.Read(section.Node("values"), found, findings).Where(s => onBoard.Any(v => v.Key == s.Key)))
        {
            values[setting.Key] = setting.Value;
        }

        // Some ports are there under one choice only.
        var block = BlockCatalogue.Create(id.Text);
        foreach (var (key, value) in values)
        {
            block.Value(key).Set(block, value);
        }

        return new PlacedBlock(entry.Key.Text, id.Text, values, Wires(section, block, findings));
    }

    private static Dictionary<string, string> Wires(Section section, Block block, Findings findings)
    {
        var wires = new Dictionary<string, string>(StringComparer.Ordinal);
        if (section.Node("wires") is not { } node || Section.AsMap(node, "ports with their nets, such as rail: rail-12v", findings) is not { } map)
        {
            return wires;
        }

        foreach (var (port, value) in map.Entries)
        {
            if (block.Ports.All(p => p.Name != port.Text))
            {
                findings.AddUnknown(port, $"port of block {block.Id}", block.Ports.Select(p => p.Name));
            }
            else if (value is TextNode net && Section.IsName(net.Text))
            {
                wires[port.Text] = net.Text;
            }
            else
            {
                findings.Add(value.Place, value is TextNode wrong ? Findings.Quote(wrong.Text) : "", $"{port.Text} takes the name of a net: lower case letters, digits and hyphens");
            }
        }

        return wires;
    }

    private static PlacedPart? Part(Entry entry, Findings findings)
    {
        if (Section.Open(entry.Value, BoardFormat.Part, findings) is not { } section || section.Choice("kind", BoardFormat.PartKinds) is not { } kind
            || section.TextNode("value") is not { } text)
        {
            return null;
        }

        var part = new LoosePart(kind.Value, 1);
        if (ValuesReader.One(part.Values[0], text, findings) is not double value)
        {
            return null;
        }

        return new PlacedPart(entry.Key.Text, kind.Value, value, Net(section, "from"), Net(section, "to"));
    }

    private static TestPoint? Point(Entry entry, Findings findings) =>
        Section.Open(entry.Value, BoardFormat.Point, findings) is not { } section || section.Choice("reference", BoardFormat.References) is not { } reference
            ? null
            : new TestPoint
            {
                Name = entry.Key.Text,
                Node = Net(section, "net"),
                ReferenceNode = Net(section, "against"),
                Reference = reference.Value,
                Description = section.Text("about") ?? "",
                LineSide = reference.Value is Reference.PrimaryReturn or Reference.Neutral,
            };

    private static string Net(Section section, string name)
    {
        if (section.TextNode(name) is not { } node)
        {
            return "";
        }

        if (!Section.IsName(node.Text))
        {
            section.Findings.Add(node, $"\"{Findings.Quote(node.Text)}\" cannot be a net; names are lower case letters, digits and hyphens, and start with a letter");
        }

        return node.Text;
    }
}
