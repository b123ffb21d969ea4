using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>What the linear part of a circuit absorbs and stores, entry by entry of its matrices.</summary>
internal sealed class LinearPower(CircuitSystem system)
{
    private (int Row, int Column, double Value)[] conductances = [];
    private (int Row, int Column, double Value)[] capacitances = [];
    private (int Row, int Column, double Value)[] turning = [];

    /// <summary>Takes over the present linear part.</summary>
    public void Take()
    {
        conductances = Entries(system.ConstantG);
        capacitances = Entries(system.ConstantC);
        turning = Turning(capacitances);
    }

    /// <summary>True where what is stored between two points depends on the way: the matrix of charges is not symmetric where a flux is an unknown of its own.</summary>
    public bool DependsOnTheWay => turning.Length > 0;

    /// <summary>Power in watts that is absorbed at a point.</summary>
    public double Absorbed(ReadOnlySpan<double> x)
    {
        var sum = 0.0;
        foreach (var (row, column, value) in conductances)
        {
            sum += value * x[row] * x[column];
        }

        return sum;
    }

    /// <summary>Growth of the stored energy in joules between two points on the straight way; on any way where it does not depend on it.</summary>
    public double Stored(ReadOnlySpan<double> from, ReadOnlySpan<double> to)
    {
        var sum = 0.0;
        foreach (var (row, column, value) in capacitances)
        {
            sum += value * (from[row] + to[row]) * (to[column] - from[column]);
        }

        return 0.5 * sum;
    }

    /// <summary>What two points on the way add to the area that the way encloses with the straight one, in joules, for a weight of one.</summary>
    /// <param name="start">Where the way begins.</param>
    /// <param name="one">A point.</param>
    /// <param name="other">Another.</param>
    public double Turned(ReadOnlySpan<double> start, ReadOnlySpan<double> one, ReadOnlySpan<double> other)
    {
        var sum = 0.0;
        foreach (var (row, column, value) in turning)
        {
            sum += value * ((one[row] - start[row]) * (other[column] - start[column]) - (one[column] - start[column]) * (other[row] - start[row]));
        }

        return sum;
    }

    /// <summary>The part of a matrix that changes its sign when rows and columns change places; each pair once.</summary>
    private static (int Row, int Column, double Value)[] Turning((int Row, int Column, double Value)[] entries)
    {
        var pairs = new Dictionary<(int Row, int Column), double>();
        foreach (var (row, column, value) in entries.Where(e => e.Row != e.Column && e.Row > 0 && e.Column > 0))
        {
            var pair = row < column ? (row, column) : (column, row);
            pairs[pair] = pairs.GetValueOrDefault(pair) + (row < column ? 0.5 : -0.5) * value;
        }

        return [.. pairs.Where(p => p.Value != 0).Select(p => (p.Key.Row, p.Key.Column, p.Value))];
    }

    private (int Row, int Column, double Value)[] Entries(double[] matrix)
    {
        var entries = new List<(int, int, double)>();
        for (var slot = 1; slot < matrix.Length; slot++)
        {
            var (row, column) = (system.Rows[slot], system.Columns[slot]);
            if (matrix[slot] != 0 && system.EnergySign[row] != 0)
            {
                entries.Add((row, column, system.EnergySign[row] * matrix[slot]));
            }
        }

        return [.. entries];
    }
}
