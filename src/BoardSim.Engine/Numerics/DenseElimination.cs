namespace BoardSim.Engine.Numerics;

/// <summary>Solves small dense systems with many right-hand sides by Gaussian elimination with row pivoting.</summary>
internal static class DenseElimination
{
    /// <summary>Solves in place.</summary>
    /// <param name="rows">The rows of the matrix, each followed by its elements of the right-hand sides; receives the solutions there.</param>
    /// <param name="size">Number of unknowns.</param>
    /// <returns>False when a pivot is next to nothing beside its column's largest entry to begin with.</returns>
    public static bool Solve(double[][] rows, int size)
    {
        for (var k = 0; k < size; k++)
        {
            var best = k;
            for (var i = k + 1; i < size; i++)
            {
                best = Math.Abs(rows[i][k]) > Math.Abs(rows[best][k]) ? i : best;
            }

            (rows[k], rows[best]) = (rows[best], rows[k]);
            var pivot = rows[k];
            if (!(Math.Abs(pivot[k]) > Tiny))
            {
                return false;
            }

            var inverse = 1 / pivot[k];
            for (var j = k; j < pivot.Length; j++)
            {
                pivot[j] *= inverse;
            }

            for (var i = k + 1; i < size; i++)
            {
                if (rows[i][k] != 0)
                {
                    DenseVector.AddScaled(rows[i].AsSpan(k), -rows[i][k], pivot.AsSpan(k));
                }
            }
        }

        for (var k = size - 1; k > 0; k--)
        {
            for (var i = 0; i < k; i++)
            {
                if (rows[i][k] != 0)
                {
                    DenseVector.AddScaled(rows[i].AsSpan(size), -rows[i][k], rows[k].AsSpan(size));
                }
            }
        }

        return true;
    }

    // Rows are scaled by whoever builds them, so that anything this small is rounding.
    private const double Tiny = 1e-18;
}
