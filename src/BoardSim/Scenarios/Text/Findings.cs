namespace BoardSim.Scenarios.Text;

/// <summary>
/// Collects what is wrong with a file, so that all of it is told at once: a page or two, that is. Then it ends the reading, for
/// the ten-thousandth finding helps nobody, and looking for the nearest right name each time would take minutes.
/// </summary>
internal sealed class Findings(string file)
{
    private const int LongestQuote = 60;

    private const int Most = 100;

    /// <summary>Names that are listed when none of them is near.</summary>
    private const int MostListed = 40;

    private readonly HashSet<Finding> findings = [];
    private bool isFull;

    public string File => file;

    public bool Any => findings.Count > 0;

    public int Count => findings.Count;

    /// <summary>The findings in the order of the file.</summary>
    public IReadOnlyList<Finding> InOrder
    {
        get
        {
            List<Finding> ordered = [.. findings.OrderBy(f => f.Line).ThenBy(f => f.Column)];
            if (isFull)
            {
                ordered.Add(ordered[^1] with { Offending = "", Message = $"reading ended after {Most} findings; there may be more, and many may follow from the first" });
            }

            return ordered;
        }
    }

    /// <summary>Notes that a text is wrong.</summary>
    public void Add(TextNode node, string message) => Add(node.Place, Quote(node.Text), message);

    /// <summary>Notes that something is wrong or missing at a place.</summary>
    /// <exception cref="ReadingEndedException">There are enough findings.</exception>
    public void Add(Place place, string offending, string message)
    {
        var finding = new Finding(file, place.Line, place.Column, offending, message);
        if (findings.Count < Most || findings.Contains(finding))
        {
            findings.Add(finding);
            return;
        }

        isFull = true;
        throw new ReadingEndedException();
    }

    /// <summary>Notes a name that is not known, with the nearest that is.</summary>
    /// <param name="node">The name.</param>
    /// <param name="what">What it should name, such as <c>test point of bridge-bulk</c>.</param>
    /// <param name="known">The names that would be right.</param>
    public void AddUnknown(TextNode node, string what, IEnumerable<string> known)
    {
        var names = known.ToList();
        var near = Nearest.To(node.Text, names);
        var more = names.Count > MostListed ? $" and {names.Count - MostListed} more" : "";
        var help = names.Count == 0 ? "there is none" : near is null ? $"known are {string.Join(", ", names.Take(MostListed))}{more}" : $"did you mean {near}?";
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
