namespace BoardSim.Engine.Numerics;

/// <summary>
/// Finds a row for every column such that all the chosen entries are in the pattern (a zero-free diagonal), by augmenting
/// paths; entries on the diagonal are taken first. (Duff, ACM Trans. Math. Softw. 7 (1981) 315, algorithm 575: the idea.)
/// </summary>
internal static class Matching
{
    /// <summary>Matches columns to rows.</summary>
    /// <param name="n">Order of the matrix.</param>
    /// <param name="columnStart">Start of each column in <paramref name="rowIndex"/>; length n + 1.</param>
    /// <param name="rowIndex">Row of each entry, column by column.</param>
    /// <param name="unmatched">Columns left without a row: the matrix is structurally singular when there are any.</param>
    /// <returns>Row of each column, or -1.</returns>
    public static int[] Find(int n, int[] columnStart, int[] rowIndex, out List<int> unmatched)
    {
        var rowOf = new int[n];
        var columnOf = new int[n];
        Array.Fill(rowOf, -1);
        Array.Fill(columnOf, -1);
        for (var c = 0; c < n; c++)
        {
            if (Array.IndexOf(rowIndex, c, columnStart[c], columnStart[c + 1] - columnStart[c]) >= 0)
            {
                rowOf[c] = columnOf[c] = c;
            }
        }

        unmatched = [];
        var visited = new int[n];
        Array.Fill(visited, -1);
        var position = new int[n];
        var path = new int[n];
        var entered = new int[n];
        for (var c = 0; c < n; c++)
        {
            if (rowOf[c] < 0 && !Augment(c))
            {
                unmatched.Add(c);
            }
        }

        return rowOf;

        // Depth-first search for an alternating path, with a stack of its own: ladders make paths thousands of columns long.
        bool Augment(int start)
        {
            var depth = 0;
            path[0] = start;
            position[start] = columnStart[start];
            visited[start] = start;
            while (depth >= 0)
            {
                var c = path[depth];
                if (FreeRow(c) is var row and >= 0)
                {
                    // Every column on the path takes the row by which the search left it.
                    for (; depth >= 0; depth--)
                    {
                        rowOf[path[depth]] = row;
                        columnOf[row] = path[depth];
                        row = entered[depth];
                    }

                    return true;
                }

                var next = -1;
                while (position[c] < columnStart[c + 1] && next < 0)
                {
                    var by = rowIndex[position[c]++];
                    if (visited[columnOf[by]] != start)
                    {
                        next = columnOf[by];
                        entered[depth + 1] = by;
                    }
                }

                if (next < 0)
                {
                    depth--;
                    continue;
                }

                visited[next] = start;
                position[next] = columnStart[next];
                path[++depth] = next;
            }

            return false;
        }

        int FreeRow(int c)
        {
            for (var p = columnStart[c]; p < columnStart[c + 1]; p++)
            {
                if (columnOf[rowIndex[p]] < 0)
                {
                    return rowIndex[p];
                }
            }

            return -1;
        }
    }
}
