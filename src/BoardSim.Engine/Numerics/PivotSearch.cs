using System.Numerics;

namespace BoardSim.Engine.Numerics;

/// <summary>
/// Left-looking LU with threshold partial pivoting in a given column order (Gilbert and Peierls, SIAM J. Sci. Stat. Comput. 9
/// (1988) 862). It finds the pivot rows and the pattern of the factors; <see cref="SparseLu{T}"/> then refactors along them.
/// </summary>
internal sealed class PivotSearch<T>
    where T : struct, INumberBase<T>
{
    /// <summary>The structurally preferred row is kept while it is within this factor of the largest candidate.</summary>
    private const double Threshold = 1e-3;

    private readonly SparsePattern pattern;
    private readonly int[] pivotOfRow;
    private readonly int[] mark;
    private readonly int[] stack;
    private readonly int[] resume;
    private readonly int[] reach;
    private readonly T[] work;
    private readonly int[] lowerStart;
    private readonly int[] upperStart;
    private int[] lowerRow = [];
    private T[] lowerFactor = [];
    private int[] upperStep = [];

    public PivotSearch(SparsePattern pattern)
    {
        this.pattern = pattern;
        var n = pattern.Size;
        (pivotOfRow, mark, stack, resume, reach) = (new int[n], new int[n], new int[n], new int[n], new int[n]);
        (lowerStart, upperStart) = (new int[n + 1], new int[n + 1]);
        work = new T[n];
        PivotRow = new int[n];
    }

    /// <summary>Row (from 0) that is the pivot of each elimination step.</summary>
    public int[] PivotRow { get; }

    /// <summary>Rows (from 0) below the pivot of a step.</summary>
    public ReadOnlySpan<int> LowerRows(int step) => lowerRow.AsSpan(lowerStart[step]..lowerStart[step + 1]);

    /// <summary>Earlier steps that have an entry in the column of a step, in an order that respects their dependence.</summary>
    public ReadOnlySpan<int> UpperSteps(int step) => upperStep.AsSpan(upperStart[step]..upperStart[step + 1]);

    /// <summary>Finds pivots for the given values. Allocates nothing where a search before has left room enough.</summary>
    /// <param name="values">Entries by slot.</param>
    /// <param name="rowScale">Factor on each row (from 0).</param>
    /// <returns>-1, or the column (from 0) for which no usable pivot was found.</returns>
    public int Run(T[] values, double[] rowScale)
    {
        var n = pattern.Size;
        var (lower, upper) = (0, 0);
        Array.Fill(pivotOfRow, -1);
        Array.Fill(mark, -1);
        for (var k = 0; k < n; k++)
        {
            var column = pattern.ColumnOrder[k];
            var top = Reach(k, column);
            for (var t = top; t < n; t++)
            {
                work[reach[t]] = T.Zero;
            }

            for (var p = pattern.ColumnStart[column]; p < pattern.ColumnStart[column + 1]; p++)
            {
                work[pattern.RowIndex[p]] = values[pattern.Slot[p]] * T.CreateChecked(rowScale[pattern.RowIndex[p]]);
            }

            MakeRoom(lower + n - top, upper + n - top);
            for (var t = top; t < n; t++)
            {
                var row = reach[t];
                var step = pivotOfRow[row];
                if (step < 0)
                {
                    lowerRow[lower++] = row;
                    continue;
                }

                upperStep[upper++] = step;
                var u = work[row];
                for (var p = lowerStart[step]; p < lowerStart[step + 1]; p++)
                {
                    work[lowerRow[p]] -= lowerFactor[p] * u;
                }
            }

            var best = Choose(column, lowerRow.AsSpan(lowerStart[k]..lower));
            if (best < 0)
            {
                return column;
            }

            (PivotRow[k], pivotOfRow[best]) = (best, k);
            var pivot = work[best];
            var candidates = lower;
            lower = lowerStart[k];
            for (var p = lower; p < candidates; p++)
            {
                var row = lowerRow[p];
                if (row != best)
                {
                    (lowerRow[lower], lowerFactor[lower]) = (row, work[row] / pivot);
                    lower++;
                }
            }

            (lowerStart[k + 1], upperStart[k + 1]) = (lower, upper);
        }

        return -1;
    }

    /// <summary>The row that becomes a column's pivot, or -1.</summary>
    private int Choose(int column, ReadOnlySpan<int> candidates)
    {
        var (best, bestMagnitude, preferredMagnitude) = (-1, 0.0, 0.0);
        foreach (var row in candidates)
        {
            var magnitude = Scalar.Magnitude(work[row]);
            if (magnitude > bestMagnitude)
            {
                (best, bestMagnitude) = (row, magnitude);
            }

            if (row == pattern.PreferredRow[column])
            {
                preferredMagnitude = magnitude;
            }
        }

        return best < 0 || !double.IsFinite(bestMagnitude) ? -1 : preferredMagnitude >= Threshold * bestMagnitude ? pattern.PreferredRow[column] : best;
    }

    private void MakeRoom(int lower, int upper)
    {
        if (lower > lowerRow.Length)
        {
            var length = Math.Max(lower, 2 * lowerRow.Length);
            Array.Resize(ref lowerRow, length);
            Array.Resize(ref lowerFactor, length);
        }

        if (upper > upperStep.Length)
        {
            Array.Resize(ref upperStep, Math.Max(upper, 2 * upperStep.Length));
        }
    }

    /// <summary>Rows that column k of the factors touches, in topological order, at the end of <see cref="reach"/>.</summary>
    private int Reach(int k, int column)
    {
        var top = pattern.Size;
        for (var p = pattern.ColumnStart[column]; p < pattern.ColumnStart[column + 1]; p++)
        {
            if (mark[pattern.RowIndex[p]] == k)
            {
                continue;
            }

            var depth = 0;
            stack[0] = pattern.RowIndex[p];
            resume[0] = 0;
            mark[stack[0]] = k;
            while (depth >= 0)
            {
                var row = stack[depth];
                var step = pivotOfRow[row];
                var below = step >= 0 ? LowerRows(step) : [];
                var next = -1;
                while (resume[depth] < below.Length && next < 0)
                {
                    var candidate = below[resume[depth]++];
                    if (mark[candidate] != k)
                    {
                        next = candidate;
                    }
                }

                if (next < 0)
                {
                    reach[--top] = row;
                    depth--;
                    continue;
                }

                mark[next] = k;
                stack[++depth] = next;
                resume[depth] = 0;
            }
        }

        return top;
    }
}
