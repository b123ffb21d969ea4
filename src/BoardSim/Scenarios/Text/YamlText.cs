using System.Text;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace BoardSim.Scenarios.Text;

/// <summary>
/// Reads YAML text into nodes with places. Only what a scenario needs is let in: one document of mappings, lists and texts.
/// Anchors, aliases and tags are refused, so that no few lines can stand for gigabytes; so are deep nesting and big files.
/// </summary>
internal sealed class YamlText
{
    /// <summary>Longest file, in bytes. A scenario is a page or two; this is a hundred.</summary>
    public const int LongestFile = 256 * 1024;

    /// <summary>Deepest nesting. The format needs five.</summary>
    public const int DeepestNesting = 16;

    /// <summary>Longest single text, in characters: a long "about" is a tenth of it.</summary>
    private const int LongestText = 8_000;

    private readonly Findings findings;
    private readonly Parser parser;
    private readonly Place end;
    private Place last = new(1, 1);

    private YamlText(string text, Findings findings)
    {
        this.findings = findings;
        parser = new Parser(new StringReader(text));
        var lines = text.Split('\n');
        end = new Place(lines.Length, lines[^1].Length + 1);
    }

    /// <summary>Reads a text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="findings">Receives what is wrong.</param>
    /// <returns>The root, or null when the text cannot be read.</returns>
    public static Node? Read(string text, Findings findings)
    {
        if (Encoding.UTF8.GetByteCount(text) > LongestFile)
        {
            findings.Add(default, "", $"the file is longer than {LongestFile / 1024} KiB, which no scenario needs");
            return null;
        }

        var reader = new YamlText(text, findings);
        try
        {
            return reader.Document();
        }
        catch (ReadingEndedException)
        {
            return null;
        }
        catch (YamlException wrong)
        {
            findings.Add(reader.Later(wrong), LineOf(text, reader.Later(wrong).Line), $"this is not well-formed YAML: {Reason(wrong)}");
            return null;
        }
#pragma warning disable CA1031 // On some malformed texts the parser fails in ways of its own; whoever wrote the text gets a place, not a stack trace.
        catch (Exception)
#pragma warning restore CA1031
        {
            findings.Add(reader.last, LineOf(text, reader.last.Line), "this is not well-formed YAML: the text cannot be read from about here on; look for a missing bracket, quote or colon");
            return null;
        }
    }

    private Node? Document()
    {
        parser.Consume<StreamStart>();
        if (parser.Accept<StreamEnd>(out _))
        {
            findings.Add(default, "", "the file is empty; a scenario starts with its title and its block");
            return null;
        }

        parser.Consume<DocumentStart>();
        var root = Next(0);
        parser.Consume<DocumentEnd>();
        if (parser.TryConsume<DocumentStart>(out var second))
        {
            findings.Add(At(second), "---", "a second document starts here; a file holds one scenario");
        }

        return root;
    }

    private Node Next(int depth)
    {
        if (depth > DeepestNesting)
        {
            throw Refuse(parser.Current!, "", $"nested deeper than {DeepestNesting} levels, which no scenario needs");
        }

        if (parser.Current is { } here)
        {
            last = At(here);
        }

        if (parser.TryConsume<AnchorAlias>(out var alias))
        {
            throw Refuse(alias, $"*{alias.Value}", $"\"*{alias.Value}\" is an alias; write the value out (anchors and aliases are not used in scenarios)");
        }

        if (parser.Current is NodeEvent { Anchor.IsEmpty: false } anchored)
        {
            throw Refuse(anchored, $"&{anchored.Anchor.Value}", $"\"&{anchored.Anchor.Value}\" is an anchor; anchors and aliases are not used in scenarios");
        }

        if (parser.Current is NodeEvent { Tag.IsEmpty: false } tagged)
        {
            throw Refuse(tagged, tagged.Tag.Value, $"\"{tagged.Tag.Value}\" is a tag; tags are not used in scenarios");
        }

        if (parser.TryConsume<Scalar>(out var scalar))
        {
            return scalar.Value.Length <= LongestText
                ? Text(scalar)
                : throw Refuse(scalar, Findings.Quote(scalar.Value), $"a text of {scalar.Value.Length} characters; no text of a scenario has more than {LongestText}");
        }

        return parser.TryConsume<SequenceStart>(out var list) ? List(list, depth) : Map(parser.Consume<MappingStart>(), depth);
    }

    private ListNode List(SequenceStart start, int depth)
    {
        var items = new List<Node>();
        while (!parser.TryConsume<SequenceEnd>(out _))
        {
            items.Add(Next(depth + 1));
        }

        return new ListNode(At(start), items);
    }

    private MapNode Map(MappingStart start, int depth)
    {
        var entries = new List<Entry>();
        var seen = new Dictionary<string, Place>(StringComparer.Ordinal);
        while (!parser.TryConsume<MappingEnd>(out _))
        {
            var key = Next(depth + 1);
            var value = Next(depth + 1);
            if (key is not TextNode name)
            {
                findings.Add(key.Place, "", $"a key has to be a text, and this is {key.Kind}");
            }
            else if (!seen.TryAdd(name.Text, name.Place))
            {
                findings.Add(name.Place, Findings.Quote(name.Text), $"the key \"{Findings.Quote(name.Text)}\" stands here for the second time; the first is on line {seen[name.Text].Line}");
            }
            else
            {
                entries.Add(new Entry(name, value));
            }
        }

        return new MapNode(At(start), entries);
    }

    /// <summary>Where the parser found the fault, or how far the reading had come when that is further; never behind the end,
    /// where the parser likes to put what is missing.</summary>
    private Place Later(YamlException wrong)
    {
        var place = new Place((int)Math.Max(1, wrong.Start.Line), (int)Math.Max(1, wrong.Start.Column));
        place = place.Line < last.Line ? last : place;
        return place.Line > end.Line ? end : place;
    }

    private TextNode Text(Scalar scalar) => new(At(scalar), scalar.Value, scalar.Style == ScalarStyle.Plain);

    private ReadingEndedException Refuse(ParsingEvent at, string offending, string message)
    {
        findings.Add(At(at), offending, message);
        return new ReadingEndedException();
    }

    /// <summary>Where something stands; what is missing at the very end stands there, and not on a line behind it.</summary>
    private Place At(ParsingEvent e) => e.Start.Line > end.Line ? end : new((int)e.Start.Line, (int)e.Start.Column);

    private static string LineOf(string text, int line) =>
        Findings.Quote(text.Split('\n').ElementAtOrDefault(line - 1)?.Trim() ?? "");

    private static string Reason(YamlException wrong)
    {
        var text = (wrong.InnerException ?? wrong).Message.Trim().TrimEnd('.');
        return text.Length == 0 ? "the text ends or turns where it should not" : char.ToLowerInvariant(text[0]) + text[1..];
    }
}
