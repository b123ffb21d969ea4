namespace BoardSim.Engine.Analyses;

/// <summary>
/// Finds the first guard that is crossed inside a step just solved, and shortens the step until it ends on the crossing. The
/// dense output is scanned first, because it costs next to nothing; the solver then has the last word.
/// </summary>
internal sealed class CrossingSearch
{
    /// <summary>No guard is crossed.</summary>
    public const int None = -1;

    /// <summary>Newton failed on the way to the crossing.</summary>
    public const int Failed = -2;

    /// <summary>Points of the dense output that are looked at, the step's end included.</summary>
    public const int Samples = 4;

    /// <summary>Solved steps after which the bracket at hand must do; bisection alone would need fewer.</summary>
    private const int MostSolves = 50;

    private const double GoldenSection = 0.3819660112501051;

    private readonly StageSolver stages;
    private readonly EventGuards guards;
    private readonly double[] probe;
    private double start;
    private double tried;

    /// <summary>Prepares a search.</summary>
    /// <param name="stages">Solver of the steps.</param>
    /// <param name="guards">What may be crossed.</param>
    /// <param name="size">Length of a vector of unknowns.</param>
    public CrossingSearch(StageSolver stages, EventGuards guards, int size)
    {
        (this.stages, this.guards) = (stages, guards);
        probe = new double[size];
    }

    /// <summary>Looks for a crossing in the step just solved, whose rates are known; when there is one, a shorter step is solved
    /// that ends just beyond it.</summary>
    /// <param name="time">Start of the step in seconds.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="tolerance">Length in seconds to which the instant is located.</param>
    /// <param name="h">Length of the step; receives the shorter one.</param>
    /// <param name="shortened">True when another step than the one given stands solved now.</param>
    /// <returns>The guard, <see cref="None"/> or <see cref="Failed"/>.</returns>
    public int Locate(double time, double[] weight, double tolerance, ref double h, out bool shortened)
    {
        (start, tried, shortened) = (time, h, false);
        if (h <= tolerance)
        {
            // As near as is asked for; a step that is shorter still may be nothing but rounding.
            return guards.Crossed(start + h, stages.Values[^1]);
        }

        var guard = Scan(out var estimate, out var high, out var slope);
        if (guard < 0)
        {
            return None;
        }

        shortened = true;
        return Approach(guard, weight, tolerance, estimate, high, slope, ref h);
    }

    /// <summary>
    /// Solves steps of varied length for the root of the guard's value at their end: by Newton with the slope of the dense
    /// output, then by a secant, then by the inverse parabola through three points, kept in a bracket that is bisected whenever neither it nor the value
    /// shrinks (Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4).
    /// </summary>
    private int Approach(int guard, double[] weight, double tolerance, double estimate, double high, double slope, ref double h)
    {
        var (low, highIsSolved) = (0.0, false);
        var (lastH, lastValue) = (double.NaN, double.NaN);
        var (earlierH, earlierValue) = (double.NaN, double.NaN);
        var (width, slow) = (high, 0);
        h = estimate;
        for (var solves = 1; ; solves++)
        {
            if (!stages.TryAgain(start, h, weight, again: solves > 1))
            {
                return Failed;
            }

            var value = guards.Value(guard, start + h, stages.Values[^1]);
            if (value >= 0)
            {
                (high, highIsSolved) = (h, true);
            }
            else if (h >= high)
            {
                // The dense output saw a crossing that the solver does not: so far, then, there is none. But another guard may have crossed meanwhile,
                // behind this one; it would stand beyond zero from now on and never be heard.
                guard = guards.Crossed(start + h, stages.Values[^1]);
                if (guard < 0)
                {
                    return None;
                }

                (low, high, highIsSolved) = (0, h, true);
                (lastH, lastValue, earlierH, earlierValue) = (double.NaN, double.NaN, double.NaN, double.NaN);
                (slope, width, slow) = (double.NaN, h, 0);
                h *= 0.5;
                continue;
            }
            else
            {
                low = h;
            }

            var gradient = double.IsNaN(lastH) ? slope : (value - lastValue) / (h - lastH);
            var root = double.IsNaN(earlierH) ? h - value / gradient : InverseParabola(h, value, lastH, lastValue, earlierH, earlierValue);

            // The step must end on the far side, or the state would change before its cause.
            if (value >= 0 && (high - low <= tolerance || (h - root >= 0 && h - root <= tolerance) || solves >= MostSolves))
            {
                return guard;
            }

            slow = high - low > 0.5 * width && !(Math.Abs(value) < 0.5 * Math.Abs(lastValue)) ? slow + 1 : 0;
            width = high - low;
            (earlierH, earlierValue) = (lastH, lastValue);
            (lastH, lastValue) = (h, value);

            // Aimed a little beyond the root, so that the next value is on the far side and ends the search.
            var next = root + 0.25 * tolerance;
            if (solves >= MostSolves || (!highIsSolved && !(next < high)))
            {
                h = high;
            }
            else if (slow >= 3 || !(next > low && next < high))
            {
                (h, slow) = ((low + high) / 2, 0);
            }
            else
            {
                h = next;
            }
        }
    }

    /// <summary>Where the parabola through three points, length as a function of value, meets zero; the secant of the first two where it bends away.</summary>
    private static double InverseParabola(double h, double value, double lastH, double lastValue, double earlierH, double earlierValue)
    {
        var secant = (h - lastH) / (value - lastValue);
        var before = (lastH - earlierH) / (lastValue - earlierValue);
        var root = h - value * secant + value * lastValue * (secant - before) / (value - earlierValue);
        return double.IsFinite(root) ? root : h - value * secant;
    }

    /// <summary>
    /// Samples the dense output, looking between the samples as well where a guard passes a maximum, so that one that crosses
    /// twice inside a step is not missed; then bisects it.
    /// </summary>
    /// <param name="estimate">Receives the length of the step that ends on the crossing.</param>
    /// <param name="high">Receives a length that lies beyond it.</param>
    /// <param name="slope">Receives the guard's slope there, in its unit per second.</param>
    private int Scan(out double estimate, out double high, out double slope)
    {
        var guard = None;
        var low = 0.0;
        (estimate, high, slope) = (0, tried, double.NaN);
        guards.KeepStart();
        for (var s = 1; s <= Samples && guard < 0; s++)
        {
            high = (double)s / Samples;
            guard = guards.Crossed(start + high * tried, At(high), s);
            if (s >= 2 && FindHump(s, ref high, out var earlier))
            {
                guard = earlier;
            }

            low = guard < 0 ? high : low;
        }

        if (guard < 0)
        {
            return None;
        }

        // Bisection on a polynomial costs little, and it lets an earlier crossing of another guard show itself.
        var bracket = high;
        low = Math.Min(low, Math.Max(0, high - 1.0 / Samples));
        for (var k = 0; k < 44; k++)
        {
            var middle = (low + bracket) / 2;
            var other = guards.Crossed(start + middle * tried, At(middle));
            if (other >= 0)
            {
                (bracket, guard) = (middle, other);
            }
            else
            {
                low = middle;
            }
        }

        var beyond = guards.Value(guard, start + bracket * tried, At(bracket));
        const double apart = 1e-4;
        slope = (beyond - guards.Value(guard, start + (bracket - apart) * tried, At(bracket - apart))) / (apart * tried);
        estimate = bracket * tried;
        high *= tried;
        return guard;
    }

    /// <summary>Looks for a maximum above zero near the last three samples, all of which lie below.</summary>
    /// <param name="last">Number of the last sample.</param>
    /// <param name="position">Receives a position where the guard is crossed.</param>
    /// <param name="guard">Receives the guard.</param>
    private bool FindHump(int last, ref double position, out int guard)
    {
        const double spacing = 1.0 / Samples;
        for (guard = 0; guard < guards.Count; guard++)
        {
            if (guards.MayPeak(guard, last) is not { } offset)
            {
                continue;
            }

            // Golden section about the parabola's vertex; the samples on both sides are below zero, so it stays between them.
            var middle = (last - 1 + offset) * spacing;
            var (a, b) = (Math.Max(0, middle - spacing / 2), Math.Min(1, middle + spacing / 2));
            var (left, right) = (a + GoldenSection * (b - a), b - GoldenSection * (b - a));
            var (leftValue, rightValue) = (Value(guard, left), Value(guard, right));
            for (var k = 0; k < 14; k++)
            {
                if (leftValue >= 0 || rightValue >= 0)
                {
                    position = leftValue >= 0 ? left : right;
                    return true;
                }

                if (leftValue > rightValue)
                {
                    (b, right, rightValue) = (right, left, leftValue);
                    left = a + GoldenSection * (b - a);
                    leftValue = Value(guard, left);
                }
                else
                {
                    (a, left, leftValue) = (left, right, rightValue);
                    right = b - GoldenSection * (b - a);
                    rightValue = Value(guard, right);
                }
            }
        }

        guard = None;
        return false;
    }

    private double Value(int guard, double theta) => guards.Value(guard, start + theta * tried, At(theta));

    private double[] At(double theta)
    {
        if (theta == 1)
        {
            return stages.Values[^1];
        }

        stages.Interpolate(theta, tried, probe);
        return probe;
    }
}
