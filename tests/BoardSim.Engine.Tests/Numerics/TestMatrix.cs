using System.Numerics;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>A sparse matrix as a list of entries, with what a test wants to know of it.</summary>
/// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
internal sealed class TestMatrix<T>
    where T : struct, INumberBase<T>
{
    private readonly int size;
    private readonly List<int> rows = [0];
    private readonly List<int> columns = [0];
    private readonly List<T> values = [T.Zero];

    public TestMatrix(int size) => this.size = size;

    /// <summary>Entries by slot, as the factorisation takes them; element 0 is a dummy.</summary>
    public T[] Values => [.. values];

    public int Entries => values.Count - 1;

    public SparsePattern Pattern => new(size, [.. rows], [.. columns]);

    /// <summary>Adds an entry; row and column count from 1.</summary>
    public TestMatrix<T> Add(int row, int column, T value)
    {
        rows.Add(row);
        columns.Add(column);
        values.Add(value);
        return this;
    }

    /// <summary>Product with a vector whose element 0 is a dummy.</summary>
    public T[] Times(T[] x, T[]? other = null)
    {
        var b = new T[size + 1];
        var entries = other ?? Values;
        for (var s = 1; s < entries.Length; s++)
        {
            b[rows[s]] += entries[s] * x[columns[s]];
        }

        return b;
    }

    /// <summary>Normwise backward error of a solution, ||b - A x|| / (||A|| ||x|| + ||b||) in the maximum norm: how much the
    /// matrix would have to change for the solution to be exact.</summary>
    public double BackwardError(T[] x, T[] b, T[]? other = null)
    {
        var entries = other ?? Values;
        var rowSums = new double[size + 1];
        for (var s = 1; s < entries.Length; s++)
        {
            rowSums[rows[s]] += Magnitude(entries[s]);
        }

        var residual = Times(x, entries).Zip(b, (p, q) => Magnitude(q - p)).Skip(1).Max();
        return residual / (rowSums.Max() * x.Skip(1).Max(Magnitude) + b.Skip(1).Max(Magnitude));
    }

    private static double Magnitude(T value) => Complex.Abs(Complex.CreateChecked(value));
}
