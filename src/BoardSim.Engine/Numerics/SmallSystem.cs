using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace BoardSim.Engine.Numerics;

/// <summary>
/// A small dense system of equations, solved anew each time its entries change: Gaussian elimination with row pivoting, several
/// elements of a row at once. Allocates nothing after construction.
/// </summary>
internal sealed class SmallSystem
{
    private readonly int size;
    private readonly double[] entries;
    private readonly double[] solution;

    /// <summary>Prepares a system.</summary>
    /// <param name="size">Number of unknowns.</param>
    public SmallSystem(int size)
    {
        this.size = size;
        Width = DenseVector.Padded(size + 1);
        entries = new double[size * Width];
        solution = new double[size];
    }

    /// <summary>Elements of a row: the coefficients, the right-hand side, and what makes them up to whole vectors.</summary>
    public int Width { get; }

    /// <summary>A row to be filled before each solution: coefficients, then the right-hand side at index size.</summary>
    public Span<double> Row(int row) => entries.AsSpan(row * Width, Width);

    /// <summary>Solves; the rows are lost.</summary>
    /// <returns>The unknowns, valid until the next call; empty when a pivot is zero or not finite.</returns>
    public ReadOnlySpan<double> Solve()
    {
        ref var a = ref MemoryMarshal.GetArrayDataReference(entries);
        for (var k = 0; k < size; k++)
        {
            var (best, largest) = (k, Math.Abs(Unsafe.Add(ref a, k * Width + k)));
            for (var i = k + 1; i < size; i++)
            {
                var candidate = Math.Abs(Unsafe.Add(ref a, i * Width + k));
                (best, largest) = candidate > largest ? (i, candidate) : (best, largest);
            }

            if (!(largest > 0 && largest < double.PositiveInfinity))
            {
                return [];
            }

            if (best != k)
            {
                Swap(k, best);
            }

            Eliminate(ref a, k);
        }

        for (var k = size - 1; k >= 0; k--)
        {
            ref var row = ref Unsafe.Add(ref a, k * Width);
            var sum = Unsafe.Add(ref row, size);
            for (var j = k + 1; j < size; j++)
            {
                sum -= Unsafe.Add(ref row, j) * solution[j];
            }

            solution[k] = sum / Unsafe.Add(ref row, k);
        }

        return solution;
    }

    private void Eliminate(ref double a, int k)
    {
        ref var pivot = ref Unsafe.Add(ref a, k * Width);
        var inverse = 1 / Unsafe.Add(ref pivot, k);

        // Whole vectors: what lies left of the diagonal within the first of them is never read again.
        var from = k / Vector<double>.Count * Vector<double>.Count;
        for (var i = k + 1; i < size; i++)
        {
            ref var row = ref Unsafe.Add(ref a, i * Width);
            var factor = new Vector<double>(-Unsafe.Add(ref row, k) * inverse);
            for (var j = from; j < Width; j += Vector<double>.Count)
            {
                var changed = Vector.FusedMultiplyAdd(factor, Vector.LoadUnsafe(ref Unsafe.Add(ref pivot, j)), Vector.LoadUnsafe(ref Unsafe.Add(ref row, j)));
                changed.StoreUnsafe(ref Unsafe.Add(ref row, j));
            }
        }
    }

    private void Swap(int k, int other)
    {
        var (one, two) = (k * Width, other * Width);
        for (var j = k; j <= size; j++)
        {
            (entries[one + j], entries[two + j]) = (entries[two + j], entries[one + j]);
        }
    }
}
