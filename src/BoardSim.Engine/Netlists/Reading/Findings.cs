namespace BoardSim.Engine.Netlists.Reading;

/// <summary>
/// Collects what is to be said about a netlist. It takes a page or two of errors and then ends the reading: the ten-thousandth error
/// helps nobody, and looking for the nearest right word each time would take hours.
/// </summary>
/// <param name="endsReading">True for errors; remarks beyond the limit are left out, and that is said.</param>
internal sealed class Findings(bool endsReading)
{
    private const int Most = 100;

    private readonly HashSet<NetlistFinding> found = [];
    private bool isFull;

    public int Count => found.Count;

    /// <summary>The findings in the order of their lines, each once.</summary>
    public IReadOnlyList<NetlistFinding> InOrder
    {
        get
        {
            List<NetlistFinding> ordered = [.. found.OrderBy(f => f.Line).ThenBy(f => f.Column)];
            if (isFull)
            {
                ordered.Add(ordered[^1] with
                {
                    Message = endsReading ? $"Reading ended after {Most} errors; there may be more, and many may follow from the first." : $"More than {Most} remarks; the others are left out.",
                });
            }

            return ordered;
        }
    }

    /// <summary>Takes up a finding; one that is there already counts once.</summary>
    /// <exception cref="ReadingEndedException">There are enough.</exception>
    public void Add(NetlistFinding finding)
    {
        if (found.Count < Most || found.Contains(finding))
        {
            found.Add(finding);
            return;
        }

        isFull = true;
        if (endsReading)
        {
            throw new ReadingEndedException();
        }
    }
}
