namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>
/// What a period makes of small deviations of the charges, A u = v for a few directions u that were tried; a deviation is split into
/// these directions by its slow rows alone. All other directions count as forgotten within a period.
/// </summary>
internal sealed class SlowModes
{
    private readonly List<double[]> tried = [];
    private readonly List<double[]> became = [];
    private double[] weight = [];

    /// <summary>Begins anew.</summary>
    /// <param name="slowWeight">Reciprocal scale of the rows that tell slow directions apart; zero for all others.</param>
    public void Clear(double[] slowWeight)
    {
        weight = (double[])slowWeight.Clone();
        tried.Clear();
        became.Clear();
    }

    /// <summary>Takes what became of a deviation over a period.</summary>
    public void Add(double[] deviation, double[] left)
    {
        tried.Add(deviation);
        became.Add(left);
    }

    /// <summary>Part of a direction's slow rows that the directions tried so far do not contain, 0..1.</summary>
    public double Novelty(double[] direction)
    {
        var rest = (double[])direction.Clone();
        var basis = new List<double[]>();
        foreach (var u in tried)
        {
            var b = (double[])u.Clone();
            basis.ForEach(e => Remove(b, e));
            basis.Add(b);
            Remove(rest, b);
        }

        return Math.Sqrt(Dot(rest, rest) / Dot(direction, direction));
    }

    /// <summary>
    /// Solves (I - B (A - I)) d = r with a diagonal B: by how much the charges at a period's start have to change so that they fit
    /// implicit formulas that take beta times the period's increment.
    /// </summary>
    /// <param name="beta">Weight of the increment by row, zero or more.</param>
    /// <param name="r">What the formulas miss.</param>
    /// <param name="end">Receives A d, the change at the period's end.</param>
    /// <returns>d.</returns>
    public double[] Solve(double[] beta, double[] r, out double[] end)
    {
        var m = tried.Count;
        end = new double[r.Length];

        // A = V (U'WU)^-1 U'W; with A d = V c follows (U'WU - U'W B/(1 + B) V) c = U'W r/(1 + B).
        var direct = new double[r.Length];
        for (var k = 1; k < r.Length; k++)
        {
            direct[k] = r[k] / (1 + beta[k]);
        }

        var reflected = became.Select(v => v.Select((x, k) => beta[k] / (1 + beta[k]) * x).ToArray()).ToList();
        var matrix = new double[m][];
        var c = new double[m];
        for (var i = 0; i < m; i++)
        {
            matrix[i] = [.. Enumerable.Range(0, m).Select(j => Dot(tried[i], tried[j]) - Dot(tried[i], reflected[j]))];
            c[i] = Dot(tried[i], direct);
        }

        Eliminate(matrix, c);
        for (var j = 0; j < m; j++)
        {
            for (var k = 1; k < r.Length; k++)
            {
                end[k] += c[j] * became[j][k];
                direct[k] += c[j] * reflected[j][k];
            }
        }

        return direct;
    }

    private void Remove(double[] from, double[] direction)
    {
        var norm = Dot(direction, direction);
        var share = norm > 0 ? Dot(from, direction) / norm : 0;
        for (var k = 1; k < from.Length; k++)
        {
            from[k] -= share * direction[k];
        }
    }

    private double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var k = 1; k < a.Length; k++)
        {
            sum += a[k] * b[k] * weight[k] * weight[k];
        }

        return sum;
    }

    private static void Eliminate(double[][] a, double[] b)
    {
        for (var p = 0; p < b.Length; p++)
        {
            var best = p;
            for (var i = p + 1; i < b.Length; i++)
            {
                best = Math.Abs(a[i][p]) > Math.Abs(a[best][p]) ? i : best;
            }

            (a[p], a[best], b[p], b[best]) = (a[best], a[p], b[best], b[p]);
            for (var i = p + 1; i < b.Length; i++)
            {
                var factor = a[i][p] / a[p][p];
                for (var j = p; j < b.Length; j++)
                {
                    a[i][j] -= factor * a[p][j];
                }

                b[i] -= factor * b[p];
            }
        }

        for (var p = b.Length - 1; p >= 0; p--)
        {
            for (var j = p + 1; j < b.Length; j++)
            {
                b[p] -= a[p][j] * b[j];
            }

            b[p] /= a[p][p];
        }
    }
}
