namespace BoardSim.Engine.Analyses;

/// <summary>
/// Rows of samples as they come, in blocks, so that a long record is never copied while it grows. Columns are drawn up when
/// somebody asks for them.
/// </summary>
internal sealed class SampleStore(int columns)
{
    private const int RowsPerBlock = 2048;

    private readonly List<double[]> blocks = [];
    private double[] block = [];
    private int used;

    /// <summary>Number of rows.</summary>
    public int Count => blocks.Count == 0 ? 0 : (blocks.Count - 1) * RowsPerBlock + used / columns;

    /// <summary>Adds a row.</summary>
    /// <returns>Where its values go.</returns>
    public Span<double> Add()
    {
        if (used == block.Length)
        {
            block = GC.AllocateUninitializedArray<double>(RowsPerBlock * columns);
            blocks.Add(block);
            used = 0;
        }

        var row = block.AsSpan(used, columns);
        used += columns;
        return row;
    }

    /// <summary>Forgets all rows.</summary>
    public void Clear()
    {
        blocks.Clear();
        (block, used) = ([], 0);
    }

    /// <summary>Copies out a column.</summary>
    public double[] Column(int column)
    {
        var values = GC.AllocateUninitializedArray<double>(Count);
        for (var k = 0; k < values.Length; k++)
        {
            values[k] = blocks[k / RowsPerBlock][k % RowsPerBlock * columns + column];
        }

        return values;
    }
}
