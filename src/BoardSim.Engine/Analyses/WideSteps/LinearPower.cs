using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>What the linear part of a circuit absorbs and stores, entry by entry of its matrices.</summary>
internal sealed class LinearPower(CircuitSystem system)
{
    private (int Row, int Column, double Value)[] conductances = [];
    private (int Row, int Column, double Value)[] capacitances = [];

    /// <summary>Takes over the present linear part.</summary>
    public void Take()
    {
        conductances = Entries(system.ConstantG);
        capacitances = Entries(system.ConstantC);
    }

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

    /// <summary>Growth of the stored energy in joules between two points.</summary>
    public double Stored(ReadOnlySpan<double> from, ReadOnlySpan<double> to)
    {
        var sum = 0.0;
        foreach (var (row, column, value) in capacitances)
        {
            sum += value * (from[row] + to[row]) * (to[column] - from[column]);
        }

        return 0.5 * sum;
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
