using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>
/// The charges of nodes in another basis, in which small is small: on the maximum spanning tree of the capacitances, rooted at the ground, each
/// node's charge is replaced by the sum over all nodes beyond it. That is the charge of the capacitors across a cut, of which the tree's is the largest. In the
/// plain basis the primary's return holds millicoulombs of the bulk capacitor, and an error of a part in a million there shifts the whole
/// primary by volts against the secondary, which a nanofarad holds.
/// </summary>
internal sealed class CutCharges
{
    /// <summary>Part of a row's capacitance below which what is left to the ground counts as rounding.</summary>
    private const double Rounding = 1e-12;

    private readonly int[] order;
    private readonly int[] parent;

    /// <summary>Finds the tree with the capacitances at the point that was evaluated last.</summary>
    /// <param name="system">The compiled circuit.</param>
    public CutCharges(CircuitSystem system)
    {
        parent = new int[system.Size + 1];
        var reached = new bool[parent.Length];
        var (edges, isNode) = Edges(system);
        var found = new List<int>();
        var queue = new PriorityQueue<(int From, int To), double>();
        for (var k = 1; k < parent.Length; k++)
        {
            reached[k] = !isNode[k];
        }

        // Prim's algorithm, from the ground; what no capacitance leads to keeps its own charge.
        foreach (var edge in edges[0])
        {
            queue.Enqueue((0, edge.To), -edge.Farads);
        }

        while (queue.TryDequeue(out var next, out _))
        {
            if (reached[next.To])
            {
                continue;
            }

            reached[next.To] = true;
            parent[next.To] = next.From;
            found.Add(next.To);
            foreach (var edge in edges[next.To])
            {
                queue.Enqueue((next.To, edge.To), -edge.Farads);
            }
        }

        order = [.. found];
    }

    /// <summary>Sums up, in place: from charges of nodes to charges of cuts.</summary>
    /// <param name="charges">By row.</param>
    /// <returns>The same vector.</returns>
    public double[] Enter(double[] charges)
    {
        for (var k = order.Length - 1; k >= 0; k--)
        {
            if (parent[order[k]] is > 0 and var up)
            {
                charges[up] += charges[order[k]];
            }
        }

        return charges;
    }

    /// <summary>The way back, in place.</summary>
    /// <param name="charges">By row.</param>
    /// <returns>The same vector.</returns>
    public double[] Leave(double[] charges)
    {
        foreach (var node in order)
        {
            if (parent[node] is > 0 and var up)
            {
                charges[up] -= charges[node];
            }
        }

        return charges;
    }

    private static (List<(int To, double Farads)>[] Edges, bool[] IsNode) Edges(CircuitSystem system)
    {
        var rows = system.Rows;
        var columns = system.Columns;
        var c = system.Loads.C;
        var edges = new List<(int To, double Farads)>[system.Size + 1];
        var (sum, size) = (new double[edges.Length], new double[edges.Length]);
        var isNode = new bool[edges.Length];
        for (var k = 0; k < edges.Length; k++)
        {
            edges[k] = [];
            isNode[k] = k > 0 && system.PowerSign[k] > 0;
        }

        for (var s = 1; s < rows.Length; s++)
        {
            var (row, column) = (rows[s], columns[s]);
            if (row == 0 || column == 0 || !isNode[row] || !isNode[column] || c[s] == 0)
            {
                continue;
            }

            sum[row] += c[s];
            size[row] += Math.Abs(c[s]);
            if (row != column)
            {
                edges[row].Add((column, Math.Abs(c[s])));
            }
        }

        for (var k = 1; k < edges.Length; k++)
        {
            if (Math.Abs(sum[k]) > Rounding * size[k])
            {
                edges[0].Add((k, Math.Abs(sum[k])));
            }
        }

        return (edges, isNode);
    }
}
