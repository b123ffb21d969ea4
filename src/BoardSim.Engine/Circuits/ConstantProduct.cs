using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace BoardSim.Engine.Circuits;

/// <summary>Product of a matrix's constant part with a vector, over the entries that are not zero only.</summary>
/// <param name="rows">Rows of the entries by slot.</param>
/// <param name="columns">Their columns.</param>
/// <param name="order">The slots in the order in which they are summed.</param>
internal sealed class ConstantProduct(int[] rows, int[] columns, int[] order)
{
    private readonly int[] entryRow = new int[rows.Length];
    private readonly int[] entryColumn = new int[rows.Length];
    private readonly double[] entry = new double[rows.Length];
    private int count;

    /// <summary>Takes new values by slot.</summary>
    public void Take(double[] values)
    {
        count = 0;
        foreach (var s in order)
        {
            if (values[s] != 0)
            {
                (entryRow[count], entryColumn[count], entry[count]) = (rows[s], columns[s], values[s]);
                count++;
            }
        }
    }

    /// <summary>Adds the product with x to a vector.</summary>
    public void AddTo(double[] target, double[] x)
    {
        // Rows and columns lie within both vectors by the way they are made.
        ref var to = ref MemoryMarshal.GetArrayDataReference(target);
        ref var from = ref MemoryMarshal.GetArrayDataReference(x);
        var v = entry.AsSpan(0, count);
        var r = entryRow.AsSpan(0, count);
        var c = entryColumn.AsSpan(0, count);
        for (var k = 0; k < v.Length; k++)
        {
            Unsafe.Add(ref to, r[k]) += v[k] * Unsafe.Add(ref from, c[k]);
        }
    }
}
