using System.Numerics;

namespace BoardSim.Engine.Numerics;

/// <summary>Solves small dense systems with many right-hand sides, real or complex, by Gaussian elimination with row pivoting.</summary>
internal static class DenseElimination
{
    // Rows are scaled by whoever builds them, so that anything this small is rounding.
    private const double Tiny = 1e-18;

    /// <summary>Solves in place.</summary>
    /// <param name="rows">The rows of the matrix one after the other, each followed by its elements of the right-hand sides; receives the solutions there.</param>
    /// <param name="size">Number of unknowns.</param>
    /// <param name="width">Elements of a row, right-hand sides included.</param>
    /// <returns>False when a pivot is next to nothing beside its column's largest entry to begin with.</returns>
    public static bool Solve<T>(Span<T> rows, int size, int width)
        where T : struct, INumberBase<T>
    {
        for (var k = 0; k < size; k++)
        {
            var best = PivotRow(rows, size, width, k);
            var pivot = rows.Slice(k * width + k, width - k);
            if (best != k)
            {
                Swap(pivot, rows.Slice(best * width + k, width - k));
            }

            if (!(Scalar.Magnitude(pivot[0]) > Tiny))
            {
                return false;
            }

            var inverse = T.One / pivot[0];
            for (var j = 0; j < pivot.Length; j++)
            {
                pivot[j] *= inverse;
            }

            for (var i = k + 1; i < size; i++)
            {
                Subtract(rows.Slice(i * width + k, width - k), rows[i * width + k], pivot);
            }
        }

        for (var k = size - 1; k > 0; k--)
        {
            for (var i = 0; i < k; i++)
            {
                Subtract(rows.Slice(i * width + size, width - size), rows[i * width + k], rows.Slice(k * width + size, width - size));
            }
        }

        return true;
    }

    private static int PivotRow<T>(ReadOnlySpan<T> rows, int size, int width, int k)
        where T : struct, INumberBase<T>
    {
        var (best, largest) = (k, Scalar.Magnitude(rows[k * width + k]));
        for (var i = k + 1; i < size; i++)
        {
            var candidate = Scalar.Magnitude(rows[i * width + k]);
            (best, largest) = candidate > largest ? (i, candidate) : (best, largest);
        }

        return best;
    }

    private static void Subtract<T>(Span<T> target, T factor, ReadOnlySpan<T> row)
        where T : struct, INumberBase<T>
    {
        if (factor == T.Zero)
        {
            return;
        }

        row = row[..target.Length];
        for (var j = 0; j < target.Length; j++)
        {
            target[j] -= factor * row[j];
        }
    }

    private static void Swap<T>(Span<T> one, Span<T> other)
    {
        for (var j = 0; j < one.Length; j++)
        {
            (one[j], other[j]) = (other[j], one[j]);
        }
    }
}
