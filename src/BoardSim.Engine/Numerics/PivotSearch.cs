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

    public PivotSearch(SparsePattern pattern)
    {
        this.pattern = pattern;
        var n = pattern.Size;
        (pivotOfRow, mark, stack, resume, reach) = (new int[n], new int[n], new int[n], new int[n], new int[n]);
        work = new T[n];
        PivotRow = new int[n];
        LowerRows = new int[n][];
        UpperSteps = new int[n][];
    }

    /// <summary>Row (from 0) that is the pivot of each elimination step.</summary>
    public int[] PivotRow { get; }

    /// <summary>Rows (from 0) below the pivot, for each step.</summary>
    public int[][] LowerRows { get; }

    /// <summary>Earlier steps that have an entry in the column of each step, in an order that respects their dependence.</summary>
    public int[][] UpperSteps { get; }

    /// <summary>Finds pivots for the given values.</summary>
    /// <param name="values">Entries by slot.</param>
    /// <param name="rowScale">Factor on each row (from 0).</param>
    /// <returns>-1, or the column (from 0) for which no usable pivot was found.</returns>
    public int Run(T[] values, double[] rowScale)
    {
        var n = pattern.Size;
        var lower = new T[n][];
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

            var (steps, rows) = (0, 0);
            for (var t = top; t < n; t++)
            {
                if (pivotOfRow[reach[t]] >= 0)
                {
                    steps++;
                }
                else
                {
                    rows++;
                }
            }

            var upper = new int[steps];
            var candidates = new int[rows];
            (steps, rows) = (0, 0);
            var (best, bestMagnitude, preferredMagnitude) = (-1, 0.0, 0.0);
            for (var t = top; t < n; t++)
            {
                var row = reach[t];
                var step = pivotOfRow[row];
                if (step >= 0)
                {
                    upper[steps++] = step;
                    var u = work[row];
                    var (below, factors) = (LowerRows[step], lower[step]);
                    for (var p = 0; p < below.Length; p++)
                    {
                        work[below[p]] -= factors[p] * u;
                    }

                    continue;
                }

                candidates[rows++] = row;
            }

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

            if (best < 0 || !double.IsFinite(bestMagnitude))
            {
                return column;
            }

            if (preferredMagnitude >= Threshold * bestMagnitude)
            {
                best = pattern.PreferredRow[column];
            }

            PivotRow[k] = best;
            pivotOfRow[best] = k;
            UpperSteps[k] = upper;
            var rest = LowerRows[k] = Array.FindAll(candidates, r => r != best);
            var pivot = work[best];
            lower[k] = Array.ConvertAll(rest, r => work[r] / pivot);
        }

        return -1;
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
                var below = step >= 0 ? LowerRows[step] : [];
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
