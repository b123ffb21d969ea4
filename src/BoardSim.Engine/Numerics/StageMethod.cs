namespace BoardSim.Engine.Numerics;

/// <summary>
/// A diagonally implicit Runge-Kutta method whose first stage is explicit and whose last stage is the result (ESDIRK,
/// stiffly accurate). All implicit stages share one diagonal coefficient, so one factorisation serves a whole step.
/// </summary>
public sealed class StageMethod
{
    private StageMethod(string name, int order, double gamma, double[][] a, double[] embedded, int embeddedOrder, int denseStage)
    {
        (Name, Order, Gamma, EmbeddedOrder, DenseStage) = (name, order, gamma, embeddedOrder, denseStage);
        Stages = a.Length;
        A = a;
        Nodes = Array.ConvertAll(a, row => row.Sum());
        Nodes[^1] = 1;
        Error = new double[Stages];
        for (var j = 0; j < Stages; j++)
        {
            Error[j] = a[^1][j] - embedded[j];
        }
    }

    /// <summary>TR-BDF2: order 2, three stages (Hosea and Shampine, Appl. Numer. Math. 20 (1996) 21, table 1; from memory,
    /// order conditions checked by a test).</summary>
    public static StageMethod TrBdf2 { get; } = MakeTrBdf2();

    /// <summary>ARK3(2)4L[2]SA, implicit part: order 3, four stages (Kennedy and Carpenter, Appl. Numer. Math. 44 (2003) 139,
    /// appendix C; from memory, order conditions checked by a test).</summary>
    public static StageMethod Esdirk3 { get; } = MakeEsdirk3();

    /// <summary>ARK4(3)6L[2]SA, implicit part: order 4, six stages (Kennedy and Carpenter, Appl. Numer. Math. 44 (2003) 139,
    /// appendix C; from memory, order conditions checked by a test).</summary>
    public static StageMethod Esdirk4 { get; } = MakeEsdirk4();

    /// <summary>All methods, in rising order.</summary>
    public static IReadOnlyList<StageMethod> All { get; } = [TrBdf2, Esdirk3, Esdirk4];

    /// <summary>Name for reports.</summary>
    public string Name { get; }

    /// <summary>Order of the result.</summary>
    public int Order { get; }

    /// <summary>Order of the embedded solution that the error estimate compares with.</summary>
    public int EmbeddedOrder { get; }

    /// <summary>Order of the worse of both solutions: the estimate falls with one power of the step more.</summary>
    public int EstimateOrder => Math.Min(Order, EmbeddedOrder);

    /// <summary>Number of stages, the explicit first one included.</summary>
    public int Stages { get; }

    /// <summary>Diagonal coefficient of the implicit stages.</summary>
    public double Gamma { get; }

    /// <summary>Coefficients, row by row; each row has as many as its stage needs, the diagonal included.</summary>
    internal double[][] A { get; }

    /// <summary>Instant of each stage as a fraction of the step.</summary>
    internal double[] Nodes { get; }

    /// <summary>Weights of the error estimate: result minus embedded solution.</summary>
    internal double[] Error { get; }

    /// <summary>The inner stage whose value is the most accurate; it supports the dense output.</summary>
    internal int DenseStage { get; }

    private static StageMethod MakeTrBdf2()
    {
        var gamma = 1 - Math.Sqrt(2) / 2;
        var w = Math.Sqrt(2) / 4;
        return new("TR-BDF2", 2, gamma,
            [[0], [gamma, gamma], [w, w, gamma]],
            [(1 - w) / 3, (3 * w + 1) / 3, gamma / 3],
            3,
            1);
    }

    private static StageMethod MakeEsdirk3()
    {
        const double g = 1767732205903.0 / 4055673282236.0;
        return new("ESDIRK3", 3, g,
            [
                [0],
                [g, g],
                [2746238789719.0 / 10658868560708.0, -640167445237.0 / 6845629431997.0, g],
                [1471266399579.0 / 7840856788654.0, -4482444167858.0 / 7529755066697.0, 11266239266428.0 / 11593286722821.0, g],
            ],
            [2756255671327.0 / 12835298489170.0, -10771552573575.0 / 22201958757719.0, 9247589265047.0 / 10645013368117.0, 2193209047091.0 / 5459859503100.0],
            2,
            2);
    }

    private static StageMethod MakeEsdirk4() =>
        new("ESDIRK4", 4, 0.25,
            [
                [0],
                [0.25, 0.25],
                [8611.0 / 62500, -1743.0 / 31250, 0.25],
                [5012029.0 / 34652500, -654441.0 / 2922500, 174375.0 / 388108, 0.25],
                [15267082809.0 / 155376265600, -71443401.0 / 120774400, 730878875.0 / 902184768, 2285395.0 / 8070912, 0.25],
                [82889.0 / 524892, 0, 15625.0 / 83664, 69875.0 / 102672, -2260.0 / 8211, 0.25],
            ],
            [4586570599.0 / 29645900160, 0, 178811875.0 / 945068544, 814220225.0 / 1159782912, -3700637.0 / 11593932, 61727.0 / 225920],
            3,
            2);
}
