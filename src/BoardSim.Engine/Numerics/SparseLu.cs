using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace BoardSim.Engine.Numerics;

/// <summary>
/// LU factors of a sparse matrix of fixed pattern. Pivots are chosen once (<see cref="Factor"/>); later matrices of the same
/// pattern are refactored along a precomputed list of targets (<see cref="Refactor"/>) without searching or allocating.
/// </summary>
/// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
public sealed class SparseLu<T>
    where T : struct, INumberBase<T>
{
    /// <summary>A multiplier beyond this means that the pivots chosen earlier no longer suit the values.</summary>
    private const double GrowthLimit = 1e6;

    /// <summary>Where other pivots need longer lists, they get this part more than they need.</summary>
    private const int SpareShare = 4;

    private readonly SparsePattern pattern;
    private readonly PivotSearch<T> search;
    private readonly double[] rowScale;
    private readonly T[] y;
    private readonly int[] slotTarget;
    private readonly T[] slotScale;
    private readonly T[] solveScale;
    private readonly int[] lowerStart;
    private readonly int[] upperStart;
    private readonly int[] stepOfRow;
    private readonly int[] stepOfColumn;
    private readonly int[] fill;
    private T[] factors = [];
    private int[] lowerRow = [];
    private int[] upperColumn = [];
    private int[] targets = [];
    private T[] solveFactors = [];
    private int[] solveTo = [];
    private int[] solveFrom = [];
    private int[] solvePosition = [];

    /// <summary>Prepares for matrices of a pattern.</summary>
    /// <param name="pattern">Must not be structurally singular.</param>
    public SparseLu(SparsePattern pattern)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        if (pattern.StructurallySingular.Count > 0)
        {
            throw new ArgumentException("The pattern is structurally singular.", nameof(pattern));
        }

        this.pattern = pattern;
        search = new PivotSearch<T>(pattern);
        rowScale = new double[pattern.Size];
        y = new T[pattern.Size];
        slotTarget = new int[pattern.SlotRow.Length];
        slotScale = new T[pattern.SlotRow.Length];
        solveScale = new T[pattern.Size];
        (lowerStart, upperStart) = (new int[pattern.Size + 1], new int[pattern.Size + 1]);
        (stepOfRow, stepOfColumn, fill) = (new int[pattern.Size], new int[pattern.Size], new int[pattern.Size]);
        for (var k = 0; k < pattern.Size; k++)
        {
            stepOfColumn[pattern.ColumnOrder[k]] = k;
        }
    }

    /// <summary>Unknown (from 1) at which the last factorisation found no pivot; 0 when it succeeded.</summary>
    public int SingularUnknown { get; private set; }

    /// <summary>Entries of both factors, diagonal included; known after <see cref="Factor"/>.</summary>
    public int FactorEntries { get; private set; }

    /// <summary>Multiply-adds of one refactorisation; known after <see cref="Factor"/>.</summary>
    public int Operations { get; private set; }

    /// <summary>Chooses pivots for these values and factors the matrix.</summary>
    /// <param name="values">Entries by slot.</param>
    /// <returns>False when the matrix is singular; <see cref="SingularUnknown"/> then tells where.</returns>
    public bool Factor(T[] values)
    {
        ArgumentNullException.ThrowIfNull(values);
        ScaleRows(values);
        SingularUnknown = search.Run(values, rowScale) + 1;
        if (SingularUnknown != 0)
        {
            // The pivots of before are lost with it.
            FactorEntries = 0;
            return false;
        }

        LayOut();
        return Refactor(values) || SingularUnknown == 0;
    }

    /// <summary>Factors a matrix of the same pattern with the pivots chosen before.</summary>
    /// <param name="values">Entries by slot.</param>
    /// <returns>False when the pivots do not suit these values: call <see cref="Factor"/>.</returns>
    public bool Refactor(T[] values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (FactorEntries == 0)
        {
            return false;
        }

        var n = pattern.Size;
        Array.Clear(factors, 0, FactorEntries);
        ref var w = ref MemoryMarshal.GetArrayDataReference(factors);
        for (var s = 1; s < slotTarget.Length; s++)
        {
            Unsafe.Add(ref w, slotTarget[s]) = values[s] * slotScale[s];
        }

        ref var target = ref MemoryMarshal.GetArrayDataReference(targets);
        var largest = 0.0;
        SingularUnknown = 0;
        for (var k = 0; k < n; k++)
        {
            var pivot = Unsafe.Add(ref w, k);
            var magnitude = Scalar.Magnitude(pivot);
            if (!(magnitude > 1e-300 && magnitude < 1e300))
            {
                SingularUnknown = pattern.ColumnOrder[k] + 1;
                return false;
            }

            var inverse = T.One / pivot;
            Unsafe.Add(ref w, k) = inverse;
            var (from, to) = (lowerStart[k], lowerStart[k + 1]);
            for (var p = from; p < to; p++)
            {
                var l = Unsafe.Add(ref w, p) * inverse;
                Unsafe.Add(ref w, p) = l;
                largest = Math.Max(largest, Scalar.Magnitude(l));
            }

            var end = upperStart[k + 1];
            for (var q = upperStart[k]; q < end; q++)
            {
                var u = Unsafe.Add(ref w, q);
                for (var p = from; p < to; p++)
                {
                    Unsafe.Add(ref w, target) -= Unsafe.Add(ref w, p) * u;
                    target = ref Unsafe.Add(ref target, 1);
                }
            }
        }

        PrepareSolve();
        return largest < GrowthLimit;
    }

    /// <summary>
    /// Takes the factors in the order in which a solve needs them: all of L and then all of U by columns, as one list of multiply-adds. Rows and columns of a circuit
    /// are so short that loops over each of them would cost more in branches guessed wrong than in arithmetic. U takes the reciprocal pivots of its columns with it.
    /// </summary>
    private void PrepareSolve()
    {
        ref var w = ref MemoryMarshal.GetArrayDataReference(factors);
        ref var position = ref MemoryMarshal.GetArrayDataReference(solvePosition);
        ref var from = ref MemoryMarshal.GetArrayDataReference(solveFrom);
        var lower = upperStart[0] - pattern.Size;
        factors.AsSpan(pattern.Size, lower).CopyTo(solveFactors);
        for (var i = lower; i < FactorEntries - pattern.Size; i++)
        {
            solveFactors[i] = Unsafe.Add(ref w, Unsafe.Add(ref position, i)) * Unsafe.Add(ref w, Unsafe.Add(ref from, i));
        }
    }

    /// <summary>Solves in place.</summary>
    /// <param name="b">Right-hand side, element 0 unused (length size + 1); receives the solution.</param>
    public void Solve(T[] b)
    {
        ArgumentNullException.ThrowIfNull(b);
        var n = pattern.Size;
        if (b.Length != n + 1)
        {
            throw new ArgumentException($"Length {b.Length}; it must be {n + 1}.", nameof(b));
        }

        ref var v = ref MemoryMarshal.GetArrayDataReference(y);
        ref var to = ref MemoryMarshal.GetArrayDataReference(solveTo);
        ref var from = ref MemoryMarshal.GetArrayDataReference(solveFrom);
        var (pivotRow, columnOrder) = (search.PivotRow, pattern.ColumnOrder);
        for (var k = 0; k < n; k++)
        {
            Unsafe.Add(ref v, k) = b[pivotRow[k] + 1] * solveScale[k];
        }

        var w = solveFactors.AsSpan(0, FactorEntries - n);
        for (var i = 0; i < w.Length; i++)
        {
            Unsafe.Add(ref v, Unsafe.Add(ref to, i)) -= w[i] * Unsafe.Add(ref v, Unsafe.Add(ref from, i));
        }

        for (var k = 0; k < n; k++)
        {
            b[columnOrder[k] + 1] = Unsafe.Add(ref v, k) * factors[k];
        }
    }

    /// <summary>Solves for several right-hand sides at once, in place.</summary>
    /// <param name="b">An element of each right-hand side for row 0, which is unused, then for each further row; receives the solutions likewise.</param>
    /// <param name="width">Number of right-hand sides, best in whole vectors.</param>
    /// <param name="work">Scratch of as many elements as there are unknowns times right-hand sides.</param>
    internal void SolveMany(Span<T> b, int width, Span<T> work)
    {
        var n = pattern.Size;
        for (var k = 0; k < n; k++)
        {
            Scalar.Scale(work.Slice(k * width, width), solveScale[k], b.Slice((search.PivotRow[k] + 1) * width, width));
        }

        for (var i = 0; i < FactorEntries - n; i++)
        {
            Scalar.AddScaled(work.Slice(solveTo[i] * width, width), -solveFactors[i], work.Slice(solveFrom[i] * width, width));
        }

        for (var k = 0; k < n; k++)
        {
            Scalar.Scale(b.Slice((pattern.ColumnOrder[k] + 1) * width, width), factors[k], work.Slice(k * width, width));
        }
    }

    /// <summary>Sign of the determinant of the matrix factored last, a real one: -1 or 1.</summary>
    public int DeterminantSign()
    {
        var (n, sign) = (pattern.Size, 1);
        for (var k = 0; k < n; k++)
        {
            sign = T.IsNegative(factors[k]) ? -sign : sign;
        }

        // Each cycle of even length of the permutation that leads from a column to its pivot's row changes it.
        var seen = new bool[n];
        for (var first = 0; first < n; first++)
        {
            for (var column = first; !seen[column]; column = search.PivotRow[stepOfColumn[column]])
            {
                seen[column] = true;
                sign = column == first ? sign : -sign;
            }
        }

        return sign;
    }

    /// <summary>Powers of two that bring each row's largest entry near one: exact to apply, and pivots become comparable.</summary>
    private void ScaleRows(T[] values)
    {
        Array.Clear(rowScale);
        for (var s = 1; s < values.Length; s++)
        {
            var r = pattern.SlotRow[s];
            rowScale[r] = Math.Max(rowScale[r], Scalar.Magnitude(values[s]));
        }

        for (var r = 0; r < rowScale.Length; r++)
        {
            rowScale[r] = rowScale[r] is > 0 and < double.PositiveInfinity ? Math.ScaleB(1, -Math.ILogB(rowScale[r])) : 1;
        }
    }

    /// <summary>Storage: the n reciprocal pivots, then L by columns, then U by rows; and where each multiply-add lands.</summary>
    private void LayOut()
    {
        var n = pattern.Size;
        for (var k = 0; k < n; k++)
        {
            stepOfRow[search.PivotRow[k]] = k;
        }

        lowerStart[0] = n;
        for (var k = 0; k < n; k++)
        {
            lowerStart[k + 1] = lowerStart[k] + search.LowerRows(k).Length;
        }

        Array.Clear(fill);
        for (var k = 0; k < n; k++)
        {
            foreach (var step in search.UpperSteps(k))
            {
                fill[step]++;
            }
        }

        upperStart[0] = lowerStart[n];
        for (var k = 0; k < n; k++)
        {
            upperStart[k + 1] = upperStart[k] + fill[k];
            fill[k] = upperStart[k];
        }

        FactorEntries = upperStart[n];
        Reserve(ref lowerRow, lowerStart[n] - n);
        Reserve(ref upperColumn, upperStart[n] - lowerStart[n]);
        Reserve(ref factors, FactorEntries);
        for (var k = 0; k < n; k++)
        {
            var at = lowerStart[k] - n;
            foreach (var row in search.LowerRows(k))
            {
                lowerRow[at++] = stepOfRow[row];
            }

            foreach (var step in search.UpperSteps(k))
            {
                upperColumn[fill[step]++ - upperStart[0]] = k;
            }
        }

        FindTargets();
        LayOutSolve();
        ScaleSlots();
    }

    /// <summary>Room for a list whose length changes a little when other pivots are chosen: they are chosen anew in the middle of a run, which then allocates nothing.</summary>
    private static void Reserve<TItem>(ref TItem[] list, int length)
    {
        if (list.Length < length)
        {
            list = new TItem[list.Length == 0 ? length : length + length / SpareShare];
        }
    }

    private void LayOutSolve()
    {
        var (n, at) = (pattern.Size, 0);
        var entries = FactorEntries - n;
        Reserve(ref solveFactors, entries);
        Reserve(ref solveTo, entries);
        Reserve(ref solveFrom, entries);
        Reserve(ref solvePosition, entries);
        for (var k = 0; k < n; k++)
        {
            for (var p = lowerStart[k]; p < lowerStart[k + 1]; p++, at++)
            {
                (solveTo[at], solveFrom[at], solvePosition[at]) = (lowerRow[p - n], k, p);
            }
        }

        // U by columns, the last first, and each column from below: where each of them begins, then row by row.
        for (var k = n - 1; k >= 0; k--)
        {
            fill[k] = at;
            at += search.UpperSteps(k).Length;
        }

        for (var row = n - 1; row >= 0; row--)
        {
            for (var q = upperStart[row]; q < upperStart[row + 1]; q++)
            {
                var column = upperColumn[q - upperStart[0]];
                var place = fill[column]++;
                (solveTo[place], solveFrom[place], solvePosition[place]) = (row, column, q);
            }
        }
    }

    private void FindTargets()
    {
        var n = pattern.Size;
        var total = 0L;
        for (var k = 0; k < n; k++)
        {
            total += (long)(lowerStart[k + 1] - lowerStart[k]) * (upperStart[k + 1] - upperStart[k]);
        }

        if (total > int.MaxValue / 8)
        {
            throw new InvalidOperationException($"The circuit's matrix fills in with {total} operations, more than this engine is made for.");
        }

        Operations = (int)total;
        Reserve(ref targets, Operations);
        var at = 0;
        for (var k = 0; k < n; k++)
        {
            for (var q = upperStart[k]; q < upperStart[k + 1]; q++)
            {
                for (var p = lowerStart[k]; p < lowerStart[k + 1]; p++)
                {
                    targets[at++] = Position(lowerRow[p - n], upperColumn[q - upperStart[0]]);
                }
            }
        }
    }

    private void ScaleSlots()
    {
        var n = pattern.Size;
        for (var k = 0; k < n; k++)
        {
            solveScale[k] = T.CreateChecked(rowScale[search.PivotRow[k]]);
        }

        for (var c = 0; c < n; c++)
        {
            for (var p = pattern.ColumnStart[c]; p < pattern.ColumnStart[c + 1]; p++)
            {
                var slot = pattern.Slot[p];
                slotTarget[slot] = Position(stepOfRow[pattern.RowIndex[p]], stepOfColumn[c]);
                slotScale[slot] = T.CreateChecked(rowScale[pattern.RowIndex[p]]);
            }
        }
    }

    /// <summary>Where entry (i, j) of the factors lies, in elimination order.</summary>
    private int Position(int i, int j)
    {
        if (i == j)
        {
            return i;
        }

        // Both lists are short in a circuit, and this runs once per choice of pivots.
        return i > j
            ? pattern.Size + Array.IndexOf(lowerRow, i, lowerStart[j] - pattern.Size, lowerStart[j + 1] - lowerStart[j])
            : upperStart[0] + Array.IndexOf(upperColumn, j, upperStart[i] - upperStart[0], upperStart[i + 1] - upperStart[i]);
    }
}
