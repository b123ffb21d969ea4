namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// What the periods computed so far tell about the map. The combination of their differences that cancels the present residual
/// leads to the fixed point; differences are made of slow modes, since the circuit forgets the others within a period. All
/// that is combined are states with the same sources, so that charges keep every sum that sources and topology dictate.
/// (Anderson, J. ACM 12 (1965) 547; with linear maps it is GMRES on the shooting equations of Aprille and Trick, Proc. IEEE 60 (1972)
/// 108: Walker and Ni, SIAM J. Numer. Anal. 49 (2011) 1715. All from memory.)
/// </summary>
internal sealed class SecantHistory
{
    /// <summary>Periods that are remembered; more slow modes than that hardly occur, and old ones tell of another region.</summary>
    private const int Longest = 16;

    /// <summary>Part of a difference of residuals that has to be new for it to be used: what is less is rounding.</summary>
    private const double Independence = 1e-6;

    private readonly List<(PeriodBoundary Start, PeriodBoundary End)> periods = [];

    /// <summary>Periods remembered.</summary>
    public int Count => periods.Count;

    /// <summary>Adds a computed period.</summary>
    public void Add(PeriodBoundary start, PeriodBoundary end)
    {
        if (periods.Count == Longest)
        {
            periods.RemoveAt(0);
        }

        periods.Add((start, end));
    }

    /// <summary>Forgets everything.</summary>
    public void Clear() => periods.Clear();

    /// <summary>The state whose residual the combination of all differences cancels.</summary>
    /// <param name="scale">Measure.</param>
    /// <param name="left">Receives the part of the residual that no combination cancels.</param>
    public PeriodBoundary Next(BoundaryScale scale, out double[] left)
    {
        var (start, end) = periods[^1];
        var count = periods.Count - 1;
        var span = new SecantSpan(count);
        for (var j = 0; j < count; j++)
        {
            span.Add(j, Minus(Residual(j + 1), Residual(j + 2)), Independence);
        }

        left = Residual(1);
        var weights = span.Nearest(left);
        var charge = (double[])end.Charge.Clone();
        var state = (double[])end.State.Clone();
        for (var j = 0; j < count; j++)
        {
            var (newer, older) = (periods[^(j + 1)].End, periods[^(j + 2)].End);
            for (var k = 1; k < charge.Length; k++)
            {
                charge[k] -= weights[j] * (newer.Charge[k] - older.Charge[k]);
                state[k] -= weights[j] * (newer.State[k] - older.State[k]);
            }
        }

        return end with { Charge = charge, State = state };

        double[] Residual(int back) => scale.Energetic(periods[^back].End.Charge, periods[^back].Start.Charge);
    }

    /// <summary>
    /// Largest multiplier of the map on the span of the differences (Floquet multiplier): the part of the slowest deviation that is left
    /// after a period.
    /// </summary>
    /// <param name="scale">Measure.</param>
    /// <param name="direction">Receives the change of charges along which it holds, of energetic length one.</param>
    /// <returns>The multiplier with its sign; null when no single real one dominates.</returns>
    public double? LargestMultiplier(BoundaryScale scale, out double[] direction)
    {
        // Small differences late in the search are noise; they follow the large ones and are dropped.
        const double least = 0.05;
        var steps = new List<(double Size, PeriodBoundary From, PeriodBoundary To, PeriodBoundary FromEnd, PeriodBoundary ToEnd)>();
        for (var j = 1; j < periods.Count; j++)
        {
            var (a, b) = (periods[j - 1], periods[j]);
            steps.Add((SecantSpan.Norm(scale.Energetic(b.Start.Charge, a.Start.Charge)), a.Start, b.Start, a.End, b.End));
        }

        direction = [];
        steps.Sort((a, b) => b.Size.CompareTo(a.Size));
        var span = new SecantSpan(steps.Count);
        for (var j = 0; j < steps.Count && steps[j].Size > least * steps[0].Size; j++)
        {
            span.Add(j, scale.Energetic(steps[j].To.Charge, steps[j].From.Charge), least);
        }

        if (span.Count == 0)
        {
            return null;
        }

        var ends = steps.ConvertAll(s => scale.Energetic(s.ToEnd.Charge, s.FromEnd.Charge));
        var image = new double[span.Count][];
        for (var i = 0; i < image.Length; i++)
        {
            image[i] = Combine(ends, span.Combination(i));
        }

        var coefficients = DominantVector(span, image, out var multiplier);
        var chosen = Combine([.. Enumerable.Range(0, span.Count).Select(i => span.Combination(i))], coefficients);
        direction = Combine(steps.ConvertAll(s => Minus(s.To.Charge, s.From.Charge)), chosen);
        return multiplier;
    }

    /// <summary>Power iteration on the map's projection onto the span.</summary>
    private static double[] DominantVector(SecantSpan span, double[][] image, out double? multiplier)
    {
        const int rounds = 500;
        var n = span.Count;
        var v = new double[n];
        Array.Fill(v, 1 / Math.Sqrt(n));
        var (factor, before) = (0.0, double.NaN);
        for (var round = 0; round < rounds; round++)
        {
            before = factor;
            var mapped = Combine(image, v);
            var next = new double[n];
            for (var i = 0; i < n; i++)
            {
                next[i] = SecantSpan.Dot(span.Vector(i), mapped);
            }

            factor = SecantSpan.Dot(v, next);
            var size = SecantSpan.Norm(next);
            if (!(size > 0))
            {
                break;
            }

            v = Array.ConvertAll(next, e => e / size);
        }

        multiplier = Math.Abs(factor - before) <= 1e-3 * Math.Abs(factor) ? factor : null;
        return v;
    }

    private static double[] Combine(IReadOnlyList<double[]> vectors, double[] weights)
    {
        var sum = new double[vectors[0].Length];
        for (var j = 0; j < weights.Length; j++)
        {
            for (var k = 0; k < sum.Length; k++)
            {
                sum[k] += weights[j] * vectors[j][k];
            }
        }

        return sum;
    }

    private static double[] Minus(double[] a, double[] b)
    {
        var c = new double[a.Length];
        for (var k = 0; k < c.Length; k++)
        {
            c[k] = a[k] - b[k];
        }

        return c;
    }
}
