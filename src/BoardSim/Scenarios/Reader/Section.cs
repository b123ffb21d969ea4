using System.Globalization;
using System.Text.RegularExpressions;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>A mapping of the file, read by its set of fields: unknown and missing keys are noted when it is opened, wrong values when they are asked for.</summary>
internal sealed partial class Section
{
    /// <summary>Most entries of a mapping of names, and most items of a list: each may cost as much as building a board.</summary>
    private const int MostNames = 100;

    private const int MostItems = 1000;

    private readonly FieldSet fields;
    private readonly MapNode map;

    private Section(FieldSet fields, MapNode map, Findings findings)
    {
        this.fields = fields;
        this.map = map;
        Findings = findings;
    }

    public Findings Findings { get; }

    public Place Place => map.Place;

    /// <summary>Opens a mapping.</summary>
    /// <returns>The section, or null when the node is no mapping.</returns>
    public static Section? Open(Node node, FieldSet fields, Findings findings)
    {
        if (AsMap(node, $"the keys of a {fields.What}: {string.Join(", ", fields.Fields.Select(f => f.Name))}", findings) is not { } map)
        {
            return null;
        }

        foreach (var entry in map.Entries.Where(e => fields.Fields.All(f => f.Name != e.Key.Text)))
        {
            findings.AddUnknown(entry.Key, $"key of a {fields.What}", fields.Fields.Select(f => f.Name));
        }

        foreach (var missing in fields.Fields.Where(f => f.Required && map.Find(f.Name) is null))
        {
            findings.Add(map.Place, "", $"the {fields.What} has no \"{missing.Name}\": {Sentence(missing.Description)}");
        }

        return new Section(fields, map, findings);
    }

    /// <summary>The node as a mapping; a key with nothing behind it counts as an empty one.</summary>
    public static MapNode? AsMap(Node node, string wanted, Findings findings)
    {
        switch (node)
        {
            case MapNode map:
                return map;
            case TextNode { IsNothing: true }:
                return new MapNode(node.Place, []);
            default:
                findings.Add(node.Place, Quoted(node), $"{Shown(node)} stands where a mapping is wanted; here come {wanted}");
                return null;
        }
    }

    public bool Has(string name) => map.Find(name) is not null;

    /// <summary>The node behind a key, or null.</summary>
    public Node? Node(string name) => map.Find(name)?.Value;

    /// <summary>The text behind a key; null when the key is missing or is not a text.</summary>
    public TextNode? TextNode(string name)
    {
        switch (Node(name))
        {
            case null:
                return null;
            case TextNode { Text: var text } node when !string.IsNullOrWhiteSpace(text):
                return node;
            case TextNode empty:
                Findings.Add(empty.Place, "", $"nothing stands behind \"{name}\"; {Sentence(fields[name].Description)}");
                return null;
            case var other:
                Findings.Add(other.Place, "", $"\"{name}\" takes a text, and this is {other.Kind}");
                return null;
        }
    }

    /// <summary>The text behind a key, blanks and line ends trimmed; null when there is none.</summary>
    public string? Text(string name) => TextNode(name)?.Text.Trim();

    /// <summary>One of a few words; null when the key is missing or the word is not known.</summary>
    public Word<T>? Choice<T>(string name, IReadOnlyList<Word<T>> words)
    {
        if (TextNode(name) is not { } node)
        {
            return null;
        }

        var found = words.FirstOrDefault(w => w.Name == node.Text);
        if (found is null)
        {
            Findings.AddUnknown(node, $"{fields.What}'s {name}", words.Select(w => w.Name));
        }

        return found;
    }

    /// <summary>The quantity behind a key in SI units, checked against its field's range; null when the key is missing or the value is wrong.</summary>
    public double? Quantity(string name)
    {
        if (TextNode(name) is not { } node || fields[name].Type is not QuantityType type)
        {
            return null;
        }

        if (QuantityText.Read(node, type.Unit, Findings) is not { } value)
        {
            return null;
        }

        if (value < type.Minimum || value > type.Maximum || (type.Above && value == type.Minimum))
        {
            Findings.Add(node, $"{name}: {node.Text} is out of range; legal is {QuantityText.Range(type.Unit, type.Minimum, type.Maximum, type.Above)}");
            return null;
        }

        return value;
    }

    /// <summary>The whole number behind a key; null when the key is missing or the value is wrong.</summary>
    public int? Count(string name)
    {
        if (TextNode(name) is not { } node || fields[name].Type is not CountType type)
        {
            return null;
        }

        if (int.TryParse(node.Text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var count) && count >= type.Minimum && count <= type.Maximum)
        {
            return count;
        }

        Findings.Add(node, $"{name}: \"{Findings.Quote(node.Text)}\" is not a whole number from {type.Minimum} to {type.Maximum}");
        return null;
    }

    /// <summary>The items of a list behind a key; empty when the key is missing.</summary>
    public IReadOnlyList<Node> List(string name)
    {
        switch (Node(name))
        {
            case null:
                return [];
            case ListNode { Items.Count: > MostItems } list:
                Findings.Add(list.Place, "", $"\"{name}\" lists {list.Items.Count} items, more than the {MostItems} that it may");
                return [.. list.Items.Take(MostItems)];
            case ListNode { Items.Count: > 0 } list:
                return list.Items;
            case var other:
                Findings.Add(other.Place, Quoted(other), $"\"{name}\" takes a list with at least one item, such as [a, b] or lines that start with a hyphen");
                return [];
        }
    }

    /// <summary>The texts of a list behind a key.</summary>
    public IReadOnlyList<TextNode> Texts(string name)
    {
        var texts = new List<TextNode>();
        foreach (var item in List(name))
        {
            if (item is TextNode text && !string.IsNullOrWhiteSpace(text.Text))
            {
                texts.Add(text);
            }
            else
            {
                Findings.Add(item.Place, Quoted(item), $"\"{name}\" lists texts, and this is {Shown(item)}");
            }
        }

        return texts;
    }

    /// <summary>The entries of a mapping from names of the author's own; badly formed names are noted and left out.</summary>
    public IEnumerable<Entry> Named(string name)
    {
        if (Node(name) is not { } node || AsMap(node, $"names of your own, each with the keys of a {Item(name)}", Findings) is not { } entries)
        {
            yield break;
        }

        if (entries.Entries.Count > MostNames)
        {
            Findings.Add(entries.Place, "", $"\"{name}\" has {entries.Entries.Count} names, more than the {MostNames} that it may");
        }

        foreach (var entry in entries.Entries.Take(MostNames))
        {
            if (NameShape().IsMatch(entry.Key.Text))
            {
                yield return entry;
            }
            else
            {
                Findings.Add(entry.Key, $"\"{Findings.Quote(entry.Key.Text)}\" cannot be a name; names are lower case letters, digits and hyphens, and start with a letter");
            }
        }
    }

    /// <summary>Notes a finding at the key, or at the section when the key is missing.</summary>
    public void Note(string name, string message)
    {
        if (map.Find(name) is { } entry)
        {
            Findings.Add(entry.Key, message);
        }
        else
        {
            Findings.Add(map.Place, "", message);
        }
    }

    /// <summary>Whether a text can be a name of the author's own.</summary>
    public static bool IsName(string text) => NameShape().IsMatch(text);

    private string Item(string name) => fields[name].Type is NamedType { Item: ObjectType item } ? item.Fields.What : name;

    private static string Quoted(Node node) => node is TextNode text ? Findings.Quote(text.Text) : "";

    private static string Shown(Node node) => node is TextNode text ? text.Text.Length == 0 ? "nothing" : $"\"{Findings.Quote(text.Text)}\"" : node.Kind;

    private static string Sentence(string description) => char.ToLowerInvariant(description[0]) + description[1..].TrimEnd('.');

    [GeneratedRegex("^[a-z][a-z0-9]*(-[a-z0-9]+)*$", RegexOptions.ExplicitCapture)]
    private static partial Regex NameShape();
}
