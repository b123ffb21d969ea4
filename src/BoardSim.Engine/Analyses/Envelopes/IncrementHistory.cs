namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>What is remembered of a computed period.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Increment">What the charges gained over it.</param>
/// <param name="End">Charges at its end, corrected.</param>
/// <param name="State">The unknowns at its end.</param>
internal sealed record HistoryNode(int Number, double[] Increment, double[] End, double[] State);

/// <summary>The computed periods that polynomials are laid through.</summary>
internal sealed class IncrementHistory
{
    private const int Most = 64;

    private readonly List<HistoryNode> nodes = [];

    public void Clear() => nodes.Clear();

    /// <summary>Adds a period later than all before.</summary>
    public void Add(HistoryNode node)
    {
        nodes.Add(node);
        if (nodes.Count > Most)
        {
            nodes.RemoveAt(0);
        }
    }

    /// <summary>The period of a number; null when it was not computed or is forgotten.</summary>
    public HistoryNode? Find(int number) => nodes.Find(n => n.Number == number);

    /// <summary>Takes the last node and older ones at distances of about a step, so that the polynomial does not amplify noise.</summary>
    /// <param name="count">Number of nodes wanted.</param>
    /// <param name="reach">Distance in periods from the last node to where the polynomial is used.</param>
    /// <param name="latest">Number of the latest period that may be taken.</param>
    /// <returns>The nodes, the latest first; fewer when there are not enough.</returns>
    public List<HistoryNode> Pick(int count, int reach, int latest)
    {
        var picked = new List<HistoryNode>();
        for (var k = nodes.Count - 1; k >= 0 && picked.Count < count; k--)
        {
            if (nodes[k].Number <= latest && (picked.Count == 0 || picked[^1].Number - nodes[k].Number >= 0.5 * reach))
            {
                picked.Add(nodes[k]);
            }
        }

        return picked;
    }
}
