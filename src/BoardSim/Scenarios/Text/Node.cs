namespace BoardSim.Scenarios.Text;

/// <summary>Where something stands in a file; both from 1.</summary>
internal readonly record struct Place(int Line, int Column);

/// <summary>A piece of a file with its place: a text, a list, or a mapping. Nothing is interpreted yet: 5, true and 1e3 are texts.</summary>
internal abstract record Node(Place Place)
{
    /// <summary>What it is, for messages.</summary>
    public abstract string Kind { get; }
}

/// <summary>A text.</summary>
/// <param name="Place">Where it starts.</param>
/// <param name="Text">The text without quotes.</param>
/// <param name="IsPlain">True when it is written without quotes.</param>
internal sealed record TextNode(Place Place, string Text, bool IsPlain) : Node(Place)
{
    public override string Kind => "a text";

    /// <summary>Nothing behind the colon.</summary>
    public bool IsNothing => IsPlain && Text is "" or "~" or "null";
}

/// <summary>A list.</summary>
internal sealed record ListNode(Place Place, IReadOnlyList<Node> Items) : Node(Place)
{
    public override string Kind => "a list";
}

/// <summary>A mapping; keys are unique.</summary>
internal sealed record MapNode(Place Place, IReadOnlyList<Entry> Entries) : Node(Place)
{
    public override string Kind => "a mapping of keys to values";

    public Entry? Find(string key) => Entries.FirstOrDefault(e => e.Key.Text == key);
}

/// <summary>A key and what stands behind it.</summary>
internal sealed record Entry(TextNode Key, Node Value);
