namespace BoardSim.Engine.Circuits;

/// <summary>Product of a matrix's constant part with a vector, over the entries that are not zero only.</summary>
internal sealed class ConstantProduct(int[] rows, int[] columns)
{
    private readonly int[] entryRow = new int[rows.Length];
    private readonly int[] entryColumn = new int[rows.Length];
    private readonly double[] entry = new double[rows.Length];
    private int count;

    /// <summary>Takes new values by slot.</summary>
    public void Take(double[] values)
    {
        count = 0;
        for (var s = 1; s < values.Length; s++)
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
        var v = entry.AsSpan(0, count);
        var r = entryRow.AsSpan(0, count);
        var c = entryColumn.AsSpan(0, count);
        for (var k = 0; k < v.Length; k++)
        {
            target[r[k]] += v[k] * x[c[k]];
        }
    }
}
