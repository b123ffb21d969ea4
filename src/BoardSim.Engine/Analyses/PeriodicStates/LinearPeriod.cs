using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>A period taken as a linear map of deviations: from it follow the state that would repeat, and how fast deviations die away.</summary>
internal sealed class LinearPeriod
{
    /// <summary>
    /// Part of a deviation that is taken to leak away in a period. Charges that nothing ever changes make the equations singular; so they
    /// keep their sum, and modes that decay in a million periods are not touched.
    /// </summary>
    private const double Leak = 1e-9;

    /// <summary>Rounds of the power iteration at most.</summary>
    private const int Rounds = 400;

    /// <summary>What may be left of a deviation after them: of less, charges that nothing ever changes and rounding has made would be the larger part.</summary>
    private const double Left = 1e-6;

    private readonly PeriodSensitivity sensitivity;
    private readonly double[] unit;
    private readonly double[][] map;

    /// <summary>Takes the map.</summary>
    /// <param name="sensitivity">What the period made of deviations.</param>
    /// <param name="scale">Measure in which they are comparable.</param>
    public LinearPeriod(PeriodSensitivity sensitivity, BoundaryScale scale)
    {
        this.sensitivity = sensitivity;
        var rows = sensitivity.Rows;
        var all = scale.Charge([.. Enumerable.Repeat(1.0, sensitivity.Charges.Count > 0 ? sensitivity.Charges[0].Length : 1)]);
        unit = [.. rows.Select(r => all[r] > 0 ? all[r] : 1)];
        map = [.. rows.Select((r, i) => sensitivity.Charges.Select((q, j) => q[r] * unit[j] / unit[i]).ToArray())];
    }

    /// <summary>The change of the charges at the period's end that leads to the state that repeats, and that of the unknowns.</summary>
    /// <param name="residual">By how much the charges changed over the period, by row.</param>
    /// <returns>Null when the equations are singular.</returns>
    public (double[] Charge, double[] State)? Correction(double[] residual)
    {
        var (n, width) = (unit.Length, unit.Length + 1);
        var equations = new double[n * width];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++)
            {
                equations[i * width + j] = (i == j ? 1 : 0) - (1 - Leak) * map[i][j];
            }

            equations[i * width + n] = residual[sensitivity.Rows[i]] / unit[i];
        }

        if (n == 0 || !DenseElimination.Solve<double>(equations, n, width))
        {
            return null;
        }

        return Image([.. Enumerable.Range(0, n).Select(i => equations[i * width + n])]);
    }

    /// <summary>Largest factor, without its sign, by which a deviation like this one is multiplied from period to period in the long run.</summary>
    /// <param name="like">A deviation of the charges by row.</param>
    /// <param name="direction">Receives what it turns into, of whatever length, with the unknowns that belong to it.</param>
    public double Multiplier(double[] like, out (double[] Charge, double[] State) direction)
    {
        var v = sensitivity.Rows.Select((r, i) => like[r] / unit[i]).ToArray();
        var (size, left) = (SecantSpan.Norm(v), 1.0);
        var logarithms = new List<double>();
        while (size > 0 && logarithms.Count < Rounds && left > Left)
        {
            v = Array.ConvertAll(v, e => e / size);
            var next = Apply(v);
            size = SecantSpan.Norm(next);
            logarithms.Add(Math.Log(size));
            left *= size;
            v = left > Left ? next : v;
        }

        // Faster deviations have gone from the second half, and those that turn are averaged over.
        direction = Image(v);
        return logarithms.Count > 0 ? Math.Exp(logarithms.Skip(logarithms.Count / 2).Average()) : 0;
    }

    private double[] Apply(double[] v) => Array.ConvertAll(map, row => SecantSpan.Dot(row, v));

    /// <summary>A deviation at the start as it is at the end.</summary>
    private (double[] Charge, double[] State) Image(double[] v)
    {
        var size = sensitivity.Charges.Count > 0 ? sensitivity.Charges[0].Length : 0;
        var (charge, state) = (new double[size], new double[size]);
        for (var j = 0; j < v.Length; j++)
        {
            for (var k = 1; k < size; k++)
            {
                charge[k] += v[j] * unit[j] * sensitivity.Charges[j][k];
                state[k] += v[j] * unit[j] * sensitivity.States[j][k];
            }
        }

        return (charge, state);
    }
}
