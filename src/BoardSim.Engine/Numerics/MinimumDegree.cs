namespace BoardSim.Engine.Numerics;

/// <summary>
/// Elimination order of small fill: always the node with the fewest neighbours in the graph of what is left (Tinney and
/// Walker, Proc. IEEE 55 (1967) 1801, scheme 2). Circuits have few entries per row, so the graph is kept explicitly.
/// </summary>
internal static class MinimumDegree
{
    /// <summary>Orders a symmetric pattern.</summary>
    /// <param name="neighbours">Adjacency of each node, without itself; consumed.</param>
    /// <returns>The nodes in the order of their elimination.</returns>
    public static int[] Order(HashSet<int>[] neighbours)
    {
        var n = neighbours.Length;
        var order = new int[n];
        var buckets = new SortedSet<(int Degree, int Node)>();
        for (var i = 0; i < n; i++)
        {
            buckets.Add((neighbours[i].Count, i));
        }

        for (var k = 0; k < n; k++)
        {
            // Once what is left is a clique, no order is better than another.
            var (degree, node) = buckets.Min;
            if (degree == buckets.Count - 1)
            {
                foreach (var (_, rest) in buckets)
                {
                    order[k++] = rest;
                }

                return order;
            }

            buckets.Remove((degree, node));
            order[k] = node;
            var clique = neighbours[node];
            foreach (var i in clique)
            {
                var set = neighbours[i];
                buckets.Remove((set.Count, i));
                set.Remove(node);
                foreach (var j in clique)
                {
                    if (j != i)
                    {
                        set.Add(j);
                    }
                }

                buckets.Add((set.Count, i));
            }

            neighbours[node] = [];
        }

        return order;
    }
}
