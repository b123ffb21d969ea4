using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Follows the solutions of a circuit at rest from no sources to full ones by the length of their path instead of by the sources: where the sources can go
/// no further (the path turns back, as of a load of constant power or a regulator that takes hold), they are led back with it. Keller's pseudo-arclength continuation
/// (Allgower and Georg, Introduction to Numerical Continuation Methods, SIAM 2003, chapters 2 and 6; from memory).
/// </summary>
/// <param name="system">The circuit.</param>
/// <param name="counters">Receive the work.</param>
internal sealed class SourceArc(CircuitSystem system, SolverCounters counters)
{
    private const int MostSteps = 4000;
    private const int MostIterations = 10;

    // Lengths in the scaled unknowns: largest and least step, and an update that is taken for none.
    private const double LongestStep = 0.2;
    private const double ShortestStep = 1e-9;
    private const double Done = 1e-6;

    // Steps as short as this that fail may have run over a corner of a law.
    private const double CornerStep = 1e-4;

    // Rounding may move an island by more: updates as small as this that get no smaller are taken for it.
    private const double Rounded = 1e-3;
    private const double StallRate = 0.3;

    // Cosine of the largest turn within a step. More may be a leap to another part of the path.
    private const double LargestTurn = 0.7;

    private readonly int size = system.Size;
    private readonly SparseLu<double> lu = new(system.Pattern);
    private readonly double[] none = new double[system.Size + 1];
    private readonly double[] full = new double[system.Size + 1];
    private readonly double[] excitation = new double[system.Size + 1];
    private readonly double[] scale = new double[system.Size + 1];
    private readonly double[] along = new double[system.Size + 1];
    private readonly double[] update = new double[system.Size + 1];
    private readonly double[] start = new double[system.Size + 1];

    // Direction of the path: its share of the sources last, in element 0.
    private double[] tangent = new double[system.Size + 1];
    private double[] ahead = new double[system.Size + 1];

    // Point and direction beyond a corner.
    private readonly double[] foot = new double[system.Size + 1];
    private double[] beyond = new double[system.Size + 1];

    /// <summary>Follows the path from the solution without sources, which stands in the system's loads.</summary>
    /// <param name="time">Time of the sources in seconds.</param>
    /// <param name="finish">Solves at full sources from the iterate in the loads; true when that worked.</param>
    /// <param name="check">Called at each step; may throw.</param>
    /// <returns>True when the solution at full sources stands in the loads.</returns>
    public bool Follow(double time, Func<bool> finish, Action check)
    {
        var l = system.Loads;
        l.SourceScale = 0;
        system.Excite(time, none);
        l.SourceScale = 1;
        system.Excite(time, full);
        for (var i = 1; i <= size; i++)
        {
            full[i] -= none[i];
        }

        var (sources, step) = (0.0, 1e-3);
        tangent[0] = 1;
        Rescale();
        if (!Linearize(0))
        {
            return false;
        }

        // Nothing is known of the direction yet but that the sources grow: it cannot turn too far.
        FindTangent(tangent);
        (tangent, ahead) = (ahead, tangent);
        for (var k = 0; k < MostSteps && step >= ShortestStep; k++)
        {
            check();
            l.X.CopyTo(start, 0);
            if (!Correct(start, tangent, sources, step, out var reached, out var iterations)
                && !(step <= CornerStep && TurnCorner(sources, step, out reached, out iterations)))
            {
                start.CopyTo(l.X, 0);
                step /= 4;
                continue;
            }

            if (reached >= 1)
            {
                // Full sources lie within this step.
                var share = (1 - sources) / (reached - sources);
                for (var i = 1; i <= size; i++)
                {
                    l.X[i] = start[i] + share * (l.X[i] - start[i]);
                }

                l.SourceScale = 1;
                if (finish())
                {
                    return true;
                }

                start.CopyTo(l.X, 0);
                step /= 4;
                continue;
            }

            sources = reached;
            (tangent, ahead) = (ahead, tangent);
            Rescale();
            step = Math.Min(LongestStep, iterations <= 3 ? 2 * step : iterations <= 5 ? step : step / 2);
        }

        return false;
    }

    /// <summary>Goes a step along a direction, and back to the path across it; leaves the path's direction there in <see cref="ahead"/>.</summary>
    private bool Correct(double[] origin, double[] direction, double from, double step, out double sources, out int iterations)
    {
        var x = system.Loads.X;
        sources = from + step * direction[0];
        for (var i = 1; i <= size; i++)
        {
            x[i] = origin[i] + step * direction[i] / scale[i];
        }

        var before = double.PositiveInfinity;
        for (iterations = 1; iterations <= MostIterations; iterations++)
        {
            if (!Linearize(sources))
            {
                return false;
            }

            var (off, turn) = (direction[0] * (sources - from) - step, direction[0]);
            for (var i = 1; i <= size; i++)
            {
                off += direction[i] * scale[i] * (x[i] - origin[i] + update[i]);
                turn += direction[i] * scale[i] * along[i];
            }

            var more = -off / turn;
            var largest = Math.Abs(more);
            sources += more;
            for (var i = 1; i <= size; i++)
            {
                var d = update[i] + more * along[i];
                x[i] += d;
                largest = Math.Max(largest, Math.Abs(d) * scale[i]);
            }

            if (!(largest < 10))
            {
                return false;
            }

            if (largest <= Done || (largest <= Rounded && largest > StallRate * before))
            {
                return Linearize(sources) && FindTangent(direction);
            }

            if (largest > before)
            {
                return false;
            }

            before = largest;
        }

        return false;
    }

    /// <summary>
    /// Goes round a corner of a law that lies within a step, where the path may turn by more than any tangent can follow, or back. The law beyond is found a step ahead on the tangent. Both laws agree
    /// on the face where they meet, so that their Jacobians differ by a column times the face's normal, and bordered by that normal they have the same determinant. The way on that leads away from the face
    /// therefore is the one that keeps the sign of the Jacobian's determinant bordered by the direction, as on piecewise linear paths (Allgower and Georg, chapter 12; from memory): the sign of the circuit's own times that of the sources' share.
    /// </summary>
    private bool TurnCorner(double from, double step, out double sources, out int iterations)
    {
        var x = system.Loads.X;
        (sources, iterations) = (from, 0);
        start.CopyTo(x, 0);
        if (!Linearize(from))
        {
            return false;
        }

        var sense = Math.Sign(tangent[0]) * lu.DeterminantSign();
        sources += step * tangent[0];
        for (var i = 1; i <= size; i++)
        {
            x[i] += step * tangent[i] / scale[i];
        }

        if (!Linearize(sources))
        {
            return false;
        }

        SetDirection(sense * lu.DeterminantSign());
        (beyond, ahead) = (ahead, beyond);

        // To the nearest point of the path as that law has it. The corner lies on it, too, and no farther off than the step.
        var across = 0.0;
        for (var i = 1; i <= size; i++)
        {
            across += beyond[i] * scale[i] * update[i];
        }

        var more = -across * beyond[0];
        var square = more * more;
        for (var i = 1; i <= size; i++)
        {
            var d = update[i] + more * along[i];
            foot[i] = x[i] + d;
            square += d * scale[i] * d * scale[i];
        }

        // From the nearest point, twice the step leads past the corner.
        return square <= 2 * step * step && Correct(foot, beyond, sources + more, 2 * step, out sources, out iterations);
    }

    /// <summary>Solves for Newton's update at these sources, and for how the unknowns go with the sources.</summary>
    private bool Linearize(double sources)
    {
        var l = system.Loads;
        counters.Iterations++;
        counters.Factorizations++;
        for (var i = 1; i <= size; i++)
        {
            excitation[i] = none[i] + sources * full[i];
        }

        l.Limiting = false;
        system.Evaluate(excitation);
        if (!lu.Refactor(l.G) && !lu.Factor(l.G))
        {
            return false;
        }

        for (var i = 1; i <= size; i++)
        {
            update[i] = -l.F[i];
            along[i] = -full[i];
        }

        update[0] = along[0] = 0;
        lu.Solve(update);
        lu.Solve(along);
        return true;
    }

    /// <summary>Direction of the path at the point that was linearized last, the way that it was gone until now.</summary>
    /// <returns>False when it turns too far from where it went.</returns>
    private bool FindTangent(double[] before)
    {
        var with = before[0];
        for (var i = 1; i <= size; i++)
        {
            with += along[i] * scale[i] * before[i];
        }

        SetDirection(with);
        return Math.Abs(ahead[0] * with) >= LargestTurn;
    }

    /// <summary>Takes how the unknowns go with the sources for the direction.</summary>
    /// <param name="sign">Positive for the way on which the sources grow.</param>
    private void SetDirection(double sign)
    {
        ahead[0] = 1;
        for (var i = 1; i <= size; i++)
        {
            ahead[i] = along[i] * scale[i];
        }

        Normalize(ahead, sign);
    }

    private static void Normalize(double[] direction, double sign)
    {
        var square = 0.0;
        foreach (var share in direction)
        {
            square += share * share;
        }

        var factor = Math.CopySign(1 / Math.Sqrt(square), sign);
        for (var i = 0; i < direction.Length; i++)
        {
            direction[i] *= factor;
        }
    }

    /// <summary>Scales the unknowns by what they have become, and the tangent with them.</summary>
    private void Rescale()
    {
        var x = system.Loads.X;
        foreach (var unknown in system.Unknowns)
        {
            // A volt, ten milliamperes, hundred kelvin.
            var (i, before) = (unknown.Index, scale[unknown.Index]);
            scale[i] = 1 / Math.Max(Math.Abs(x[i]), unknown.Kind switch
            {
                UnknownKind.Current => 1e-2,
                UnknownKind.Temperature => 100,
                _ => 1,
            });
            tangent[i] *= before > 0 ? scale[i] / before : 0;
        }

        Normalize(tangent, 1);
    }
}
