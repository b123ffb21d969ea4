namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>
/// The formulas of one leap. Charges that keep what they have are summed up from the polynomial through known increments (Adams-Bashforth); those
/// that change within a period lie on the polynomial through known values, which does not sum up the noise of increments.
/// </summary>
internal sealed class LeapFormula
{
    private readonly double[] from;
    private readonly int number;
    private readonly double[][] increments;
    private readonly double[][] ends;
    private readonly int[] numbers;

    /// <summary>Prepares a leap.</summary>
    /// <param name="from">Charges at its start.</param>
    /// <param name="number">Number of the period that would begin there.</param>
    /// <param name="nodes">Known periods, the latest first.</param>
    public LeapFormula(double[] from, int number, IReadOnlyList<HistoryNode> nodes)
    {
        (this.from, this.number) = (from, number);
        numbers = [.. nodes.Select(n => n.Number)];
        increments = [.. nodes.Select(n => n.Increment)];
        ends = [.. nodes.Select(n => n.End)];
    }

    /// <summary>Charges at the start of a later period by what is known before the leap.</summary>
    /// <param name="at">Number of that period.</param>
    /// <param name="keeps">Rows whose increments are summed up.</param>
    public double[] Predict(int at, bool[] keeps)
    {
        var sum = Polynomial.Sum(numbers, number, at);
        var value = Polynomial.At(numbers, at - 1);
        var z = new double[from.Length];
        for (var k = 1; k < z.Length; k++)
        {
            z[k] = keeps[k] ? from[k] + Combine(sum, increments, k) : Combine(value, ends, k);
        }

        return z;
    }

    /// <summary>What the charges at the start of a computed period miss of the implicit formulas: Adams-Moulton, or that of backward
    /// differentiation for rows that are not summed up.</summary>
    /// <param name="at">Number of the period.</param>
    /// <param name="start">Charges at its start.</param>
    /// <param name="increment">What they gained over it.</param>
    /// <param name="keeps">Rows whose increments are summed up.</param>
    /// <param name="beta">Receives the weight of that increment in the formula, by row.</param>
    public double[] Miss(int at, double[] start, double[] increment, bool[] keeps, out double[] beta)
    {
        int[] nodes = [at, .. numbers[..^1]];
        var sum = Polynomial.Sum(nodes, number, at);
        var here = Polynomial.At(numbers, at - 1);
        var next = Polynomial.At(numbers, at);

        // The polynomial through the old values and this period's start grows by sigma times its part that is new.
        var sigma = Polynomial.Product(numbers, at) / Polynomial.Product(numbers, at - 1) - 1;
        beta = new double[start.Length];
        var miss = new double[start.Length];
        for (var k = 1; k < miss.Length; k++)
        {
            if (keeps[k])
            {
                beta[k] = sum[0];
                miss[k] = from[k] + sum[0] * increment[k] + Combine(sum.AsSpan(1), increments, k) - start[k];
            }
            else
            {
                var (old, later) = (Combine(here, ends, k), Combine(next, ends, k));
                beta[k] = 1 / sigma;
                miss[k] = (increment[k] - (later - old)) / sigma - (start[k] - old);
            }
        }

        return miss;
    }

    private static double Combine(ReadOnlySpan<double> weights, double[][] vectors, int row)
    {
        var sum = 0.0;
        for (var j = 0; j < weights.Length; j++)
        {
            sum += weights[j] * vectors[j][row];
        }

        return sum;
    }
}
