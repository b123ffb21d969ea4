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
        Rescale();
        tangent[0] = 1;
        if (!Linearize(0))
        {
            return false;
        }

        // Nothing is known of the direction yet but that the sources grow: it cannot turn too far.
        FindTangent();
        (tangent, ahead) = (ahead, tangent);
        for (var k = 0; k < MostSteps && step >= ShortestStep; k++)
        {
            check();
            l.X.CopyTo(start, 0);
            if (!Correct(sources, step, out var reached, out var iterations))
            {
                start.CopyTo(l.X, 0);
                step /= 4;
                continue;
            }

            if (reached >= 1)
            {
                // Full sources lie within this step.
                var share = (1 - sources) / (reached - sources);
                var beyond = (double[])l.X.Clone();
                for (var i = 1; i <= size; i++)
                {
                    l.X[i] = start[i] + share * (beyond[i] - start[i]);
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
            Rescale();
            (tangent, ahead) = (ahead, tangent);
            step = Math.Min(LongestStep, iterations <= 3 ? 2 * step : iterations <= 5 ? step : step / 2);
        }

        return false;
    }

    /// <summary>Goes a step along the tangent, and back to the path across it; leaves its direction there in <see cref="ahead"/>.</summary>
    private bool Correct(double from, double step, out double sources, out int iterations)
    {
        var x = system.Loads.X;
        sources = from + step * tangent[0];
        for (var i = 1; i <= size; i++)
        {
            x[i] += step * tangent[i] / scale[i];
        }

        var before = double.PositiveInfinity;
        for (iterations = 1; iterations <= MostIterations; iterations++)
        {
            if (!Linearize(sources))
            {
                return false;
            }

            var (off, turn) = (tangent[0] * (sources - from) - step, tangent[0]);
            for (var i = 1; i <= size; i++)
            {
                off += tangent[i] * scale[i] * (x[i] - start[i] + update[i]);
                turn += tangent[i] * scale[i] * along[i];
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
                return Linearize(sources) && FindTangent();
            }

            if (largest > before)
            {
                return false;
            }

            before = largest;
        }

        return false;
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
    private bool FindTangent()
    {
        var (square, with) = (1.0, tangent[0]);
        for (var i = 1; i <= size; i++)
        {
            ahead[i] = along[i] * scale[i];
            square += ahead[i] * ahead[i];
            with += ahead[i] * tangent[i];
        }

        var factor = Math.CopySign(1 / Math.Sqrt(square), with);
        ahead[0] = factor;
        for (var i = 1; i <= size; i++)
        {
            ahead[i] *= factor;
        }

        return double.IsFinite(factor) && (factor * with >= LargestTurn);
    }

    private void Rescale()
    {
        var x = system.Loads.X;
        foreach (var unknown in system.Unknowns)
        {
            // A volt, ten milliamperes, hundred kelvin.
            scale[unknown.Index] = 1 / Math.Max(Math.Abs(x[unknown.Index]), unknown.Kind switch
            {
                UnknownKind.Current => 1e-2,
                UnknownKind.Temperature => 100,
                _ => 1,
            });
        }
    }
}
