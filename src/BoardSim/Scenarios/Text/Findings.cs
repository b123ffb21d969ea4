namespace BoardSim.Scenarios.Text;

/// <summary>Collects what is wrong with a file, so that all of it is told at once.</summary>
internal sealed class Findings(string file)
{
    private const int LongestQuote = 60;

    private readonly List<Finding> findings = [];

    public string File => file;

    public bool Any => findings.Count > 0;

    public int Count => findings.Count;

    /// <summary>The findings in the order of the file.</summary>
    public IReadOnlyList<Finding> InOrder => [.. findings.OrderBy(f => f.Line).ThenBy(f => f.Column)];

    /// <summary>Notes that a text is wrong.</summary>
    public void Add(TextNode node, string message) => Add(node.Place, Quote(node.Text), message);

    /// <summary>Notes that something is wrong or missing at a place.</summary>
    public void Add(Place place, string offending, string message) =>
        findings.Add(new Finding(file, place.Line, place.Column, offending, message));

    /// <summary>Notes a name that is not known, with the nearest that is.</summary>
    /// <param name="node">The name.</param>
    /// <param name="what">What it should name, such as <c>test point of bridge-bulk</c>.</param>
    /// <param name="known">The names that would be right.</param>
    public void AddUnknown(TextNode node, string what, IEnumerable<string> known)
    {
        var names = known.ToList();
        var near = Nearest.To(node.Text, names);
        var help = names.Count == 0 ? "there is none" : near is null ? $"known are {string.Join(", ", names)}" : $"did you mean {near}?";
        Add(node, $"\"{Quote(node.Text)}\" is not a {what}; {help}");
    }

    public void ThrowIfAny()
    {
        if (Any)
        {
            throw new ScenarioException(InOrder);
        }
    }

    /// <summary>A text fit for a message: one line, not too long.</summary>
    public static string Quote(string text)
    {
        var line = text.ReplaceLineEndings(" ");
        return line.Length <= LongestQuote ? line : line[..LongestQuote] + "...";
    }
}
