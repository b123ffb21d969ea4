namespace BoardSim.Engine.Numerics;

/// <summary>
/// Collocation at Radau's right-hand points (Radau IIA): a fully implicit Runge-Kutta method of order 2s - 1 with s stages,
/// L-stable and stiffly accurate (Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.5;
/// from memory, order conditions checked by a test). All coefficients follow from the polynomial through the step's start and
/// its stages.
/// </summary>
public sealed class CollocationMethod
{
    private const int MostStages = 9;

    private static readonly CollocationMethod?[] Known = new CollocationMethod?[MostStages + 1];

    private readonly double[] barycentric;
    private StageSpectrum? spectrum;

    /// <summary>Works out the coefficients.</summary>
    /// <param name="stages">Number of stages, 1 to 9.</param>
    public CollocationMethod(int stages)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(stages, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(stages, MostStages);
        Stages = stages;
        Nodes = [0, .. RadauPoints(stages)];
        barycentric = new double[stages + 1];
        for (var j = 0; j <= stages; j++)
        {
            var product = 1.0;
            for (var k = 0; k <= stages; k++)
            {
                product *= k == j ? 1 : Nodes[j] - Nodes[k];
            }

            barycentric[j] = 1 / product;
        }

        Derivative = new double[stages + 1, stages + 1];
        for (var i = 0; i <= stages; i++)
        {
            for (var j = 0; j <= stages; j++)
            {
                if (i != j)
                {
                    Derivative[i, j] = barycentric[j] / barycentric[i] / (Nodes[i] - Nodes[j]);
                    Derivative[i, i] -= Derivative[i, j];
                }
            }
        }

        Weights = QuadratureWeights(stages, Derivative);
        Leading = LeadingTerms(Nodes, Math.Min(4, stages + 1));
    }

    /// <summary>The method of so many stages, worked out once: runs of many cases begin with it.</summary>
    /// <param name="stages">Number of stages, 1 to 9.</param>
    internal static CollocationMethod Of(int stages) => Known[stages] ??= new CollocationMethod(stages);

    /// <summary>What its stages make of each other, taken apart.</summary>
    internal StageSpectrum Spectrum => spectrum ??= new StageSpectrum(this);

    /// <summary>Number of implicit stages; the last one is the result.</summary>
    public int Stages { get; }

    /// <summary>Order of the result: 2s - 1.</summary>
    public int Order => 2 * Stages - 1;

    /// <summary>Instants as fractions of the step: 0 for its start, then the stages, the last of which is 1.</summary>
    public double[] Nodes { get; }

    /// <summary>Derivative of the polynomial through all nodes, at each node (row), by the values at the nodes (column), for a step of
    /// length one. Rows and columns from 1 on are the inverse of the Runge-Kutta matrix.</summary>
    public double[,] Derivative { get; }

    /// <summary>Weights of the quadrature over the step at the stages; element 0 is zero.</summary>
    public double[] Weights { get; }

    /// <summary>
    /// Weights that give, from the values at the nodes, the coefficients of the polynomial's four highest terms as a series of
    /// Chebyshev polynomials over the step: how fast they fall tells how well the polynomial follows the solution. Index 0 is the
    /// highest term.
    /// </summary>
    public double[][] Leading { get; }

    /// <summary>Weights of the values at the nodes in the polynomial's value at a position; it may lie outside the step.</summary>
    /// <param name="theta">Position as a fraction of the step.</param>
    /// <param name="weights">Receives stages + 1 weights.</param>
    public void Interpolate(double theta, Span<double> weights)
    {
        var product = 1.0;
        for (var j = 0; j <= Stages; j++)
        {
            var apart = theta - Nodes[j];
            if (apart == 0)
            {
                weights[..(Stages + 1)].Clear();
                weights[j] = 1;
                return;
            }

            product *= apart;
            weights[j] = barycentric[j] / apart;
        }

        for (var j = 0; j <= Stages; j++)
        {
            weights[j] *= product;
        }
    }

    /// <summary>Roots of P_s - P_(s-1), the Legendre polynomials on 0..1; the last one is 1.</summary>
    private static double[] RadauPoints(int stages)
    {
        const int pieces = 2000;
        var points = new List<double>();
        for (var k = 0; k < pieces && points.Count < stages - 1; k++)
        {
            // Denser towards the ends, where the roots lie closer together; the end itself is known.
            var (low, high) = (Place(k), Place(k + 1));
            if (Defect(low) * Defect(high) < 0)
            {
                points.Add(Bisect(low, high));
            }
        }

        points.Add(1);
        return [.. points];

        static double Place(int k) => 0.5 * (1 - Math.Cos(Math.PI * (k + 0.5) / (pieces + 1)));

        double Bisect(double low, double high)
        {
            var sign = Math.Sign(Defect(low));
            for (var k = 0; k < 60; k++)
            {
                var middle = 0.5 * (low + high);
                (low, high) = Math.Sign(Defect(middle)) == sign ? (middle, high) : (low, middle);
            }

            return 0.5 * (low + high);
        }

        double Defect(double x)
        {
            var (before, now) = (1.0, 2 * x - 1);
            for (var k = 2; k <= stages; k++)
            {
                (before, now) = (now, ((2 * k - 1) * (2 * x - 1) * now - (k - 1) * before) / k);
            }

            return now - before;
        }
    }

    /// <summary>Rows of the inverse of the matrix that evaluates Chebyshev polynomials at the nodes, highest term first.</summary>
    private static double[][] LeadingTerms(double[] nodes, int count)
    {
        var (size, width) = (nodes.Length, 2 * nodes.Length);
        var rows = new double[size * width];
        for (var j = 0; j < size; j++)
        {
            rows[j * width + size + j] = 1;
            for (var k = 0; k < size; k++)
            {
                rows[j * width + k] = Math.Cos(k * Math.Acos(Math.Clamp(2 * nodes[j] - 1, -1, 1)));
            }
        }

        DenseElimination.Solve<double>(rows, size, width);
        return [.. Enumerable.Range(1, count).Select(back => rows.AsSpan((size - back) * width + size, size).ToArray())];
    }

    /// <summary>The last row of the Runge-Kutta matrix, from its inverse: b' D = last unit vector.</summary>
    private static double[] QuadratureWeights(int stages, double[,] derivative)
    {
        // Transposed system with one right-hand side.
        var width = stages + 1;
        var rows = new double[stages * width];
        for (var i = 0; i < stages; i++)
        {
            for (var j = 0; j < stages; j++)
            {
                rows[i * width + j] = derivative[j + 1, i + 1];
            }

            rows[i * width + stages] = i == stages - 1 ? 1 : 0;
        }

        DenseElimination.Solve<double>(rows, stages, width);
        return [0, .. Enumerable.Range(0, stages).Select(i => rows[i * width + stages])];
    }
}
