namespace BoardSim.Engine.Numerics;

/// <summary>
/// Where a square matrix has entries, and in which order its columns are best eliminated; found once per circuit.
/// Entries keep the slot numbers of whoever fills them; unknowns count from 1, slot 0 and index 0 are dummies.
/// </summary>
public sealed class SparsePattern
{
    /// <summary>Analyses a pattern.</summary>
    /// <param name="size">Order of the matrix.</param>
    /// <param name="rows">Row of each slot, from 1; element 0 is ignored. No pair of row and column occurs twice.</param>
    /// <param name="columns">Column of each slot, from 1.</param>
    public SparsePattern(int size, ReadOnlySpan<int> rows, ReadOnlySpan<int> columns)
    {
        Size = size;
        SlotRow = new int[rows.Length];
        ColumnStart = new int[size + 1];
        for (var s = 1; s < rows.Length; s++)
        {
            SlotRow[s] = rows[s] - 1;
            ColumnStart[columns[s]]++;
        }

        for (var c = 0; c < size; c++)
        {
            ColumnStart[c + 1] += ColumnStart[c];
        }

        Slot = new int[rows.Length - 1];
        RowIndex = new int[rows.Length - 1];
        var fill = ColumnStart.AsSpan(0, size).ToArray();
        for (var s = 1; s < rows.Length; s++)
        {
            var at = fill[columns[s] - 1]++;
            Slot[at] = s;
            RowIndex[at] = rows[s] - 1;
        }

        PreferredRow = Matching.Find(size, ColumnStart, RowIndex, out var unmatched);
        StructurallySingular = unmatched.Select(c => c + 1).ToList();
        if (StructurallySingular.Count == 0)
        {
            ColumnOrder = MinimumDegree.Order(Graph());
        }
    }

    /// <summary>Order of the matrix.</summary>
    public int Size { get; }

    /// <summary>Unknowns (from 1) for which no pivot can exist whatever the values; empty for a sound circuit.</summary>
    public IReadOnlyList<int> StructurallySingular { get; }

    /// <summary>Start of each column in <see cref="Slot"/> and <see cref="RowIndex"/>; length size + 1.</summary>
    internal int[] ColumnStart { get; }

    /// <summary>Slot of each entry, column by column.</summary>
    internal int[] Slot { get; }

    /// <summary>Row of each entry (from 0), column by column.</summary>
    internal int[] RowIndex { get; }

    /// <summary>Row (from 0) of each slot.</summary>
    internal int[] SlotRow { get; }

    /// <summary>Row (from 0) that should be each column's pivot, by structure.</summary>
    internal int[] PreferredRow { get; }

    /// <summary>Columns (from 0) in the order of their elimination.</summary>
    internal int[] ColumnOrder { get; } = [];

    private HashSet<int>[] Graph()
    {
        var columnOfRow = new int[Size];
        for (var c = 0; c < Size; c++)
        {
            columnOfRow[PreferredRow[c]] = c;
        }

        var graph = new HashSet<int>[Size];
        for (var c = 0; c < Size; c++)
        {
            graph[c] = [];
        }

        for (var c = 0; c < Size; c++)
        {
            for (var p = ColumnStart[c]; p < ColumnStart[c + 1]; p++)
            {
                var r = columnOfRow[RowIndex[p]];
                if (r != c)
                {
                    graph[r].Add(c);
                    graph[c].Add(r);
                }
            }
        }

        return graph;
    }
}
