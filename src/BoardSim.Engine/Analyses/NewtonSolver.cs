using System.Numerics;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Solves <c>Q(x) + a F(x, t) = r</c> by Newton's method, the one nonlinear problem that all analyses share: a stage of an
/// integrator with a = gamma h, an operating point with Q left out. Keeps the factors for the next solve while they serve.
/// </summary>
internal sealed class NewtonSolver
{
    /// <summary>Convergence rate beyond which the next iteration takes new factors.</summary>
    private const double SlowRate = 0.2;

    /// <summary>Solves that begin with new factors after one that began with old ones and needed new ones on the way. At an everyday
    /// accuracy old factors mostly do; at a tight one junctions bend within the first update.</summary>
    private const int FreshStarts = 4;

    /// <summary>Share of the goal below which an update ends the iteration at any rate: a start that is the solution already leaves
    /// updates of rounding size, which do not shrink further.</summary>
    private const double Negligible = 1e-3;

    private const double UnitInLastPlace = 2.220446049250313e-16;

    /// <summary>Part of a node's charge that rounding may make of nothing.</summary>
    private const double Rounding = 1e-14;

    /// <summary>Weighted update by old factors beyond which it is not believed.</summary>
    private const double Absurd = 30;

    /// <summary>Rate beyond which updates are suspected of being nothing but rounding.</summary>
    private const double StallRate = 0.3;

    /// <summary>Multiple of the estimated rounding error that an update may be made of.</summary>
    private const double RoundingMargin = 16;

    /// <summary>
    /// Fastest convergence that an operating point believes in: an iterate that comes back from gigavolts seems to converge at 1e-11
    /// and may be anywhere. (In a transient the balance of currents has the last word.)
    /// </summary>
    private const double FastestRate = 1e-3;

    /// <summary>Part of a coupling below which it counts as lost: a junction that has blocked since the factors were made.</summary>
    private const double Collapse = 1e-6;

    /// <summary>Part of a row's largest element that its sum may be by rounding.</summary>
    private const double RoundedSum = 1e-12;

    private readonly CircuitSystem system;
    private readonly SolverCounters counters;
    private readonly SparseLu<double> lu;
    private readonly double[] jacobian;
    private readonly int[] rows;
    private readonly int[] columns;
    private readonly int[] diagonalSlot;
    private readonly int[] rowStart;
    private readonly int[] slotsByRow;
    private readonly double[] noise;
    private readonly double[] noisiest;
    private readonly double[] trial;
    private double factoredCoefficient = double.NaN;
    private double oldRate = 1;
    private double freshRate = 1;
    private int freshStarts;

    public NewtonSolver(CircuitSystem system, SolverCounters counters)
    {
        this.system = system;
        this.counters = counters;
        rows = system.Rows.ToArray();
        columns = system.Columns.ToArray();
        lu = new SparseLu<double>(system.Pattern);
        jacobian = new double[rows.Length];
        Update = new double[system.Size + 1];
        noise = new double[system.Size + 1];
        noisiest = new double[system.Size + 1];
        trial = new double[system.Size + 1];
        diagonalSlot = new int[system.Size + 1];
        slotsByRow = [.. Enumerable.Range(1, rows.Length - 1).OrderBy(s => rows[s])];
        rowStart = new int[system.Size + 2];
        foreach (var row in rows.Skip(1))
        {
            rowStart[row + 1]++;
        }

        for (var i = 1; i < rowStart.Length; i++)
        {
            rowStart[i] += rowStart[i - 1];
        }

        for (var s = 1; s < rows.Length; s++)
        {
            if (rows[s] == columns[s])
            {
                diagonalSlot[rows[s]] = s;
            }
        }
    }

    /// <summary>Last Newton update.</summary>
    public double[] Update { get; }

    /// <summary>Index of the unknown with the largest weighted update of the last iteration, after a solve that failed.</summary>
    public int WorstUnknown { get; private set; }

    /// <summary>Unknown without a pivot when the last solve met a singular matrix, else 0.</summary>
    public int SingularUnknown { get; private set; }

    /// <summary>Conductance in siemens from every node to ground, and resistance in ohms in series with every inductor, while an operating
    /// point is being stepped.</summary>
    public double Shunt { get; set; }

    /// <summary>Sign with which the shunt enters an unknown's equation, 0 where it does not: a conductance to ground at a node, a
    /// resistance in series in a branch, whose law counts its voltage drop negative.</summary>
    /// <param name="unknown">Index of the unknown.</param>
    public int ShuntSign(int unknown) => diagonalSlot[unknown] == 0 ? 0 : system.PowerSign[unknown] < 0 ? -1 : 1;

    /// <summary>Forgets the factors: parameters or discrete states changed.</summary>
    public void Invalidate() => (factoredCoefficient, oldRate, freshRate) = (double.NaN, 1, 1);

    /// <summary>Largest branch current of late, in amperes.</summary>
    public double CurrentScale { get; set; }

    /// <summary>Part of the largest current that may be left over at a node, when charges are in the equation.</summary>
    public double CurrentTolerance { get; set; } = double.PositiveInfinity;

    /// <summary>
    /// Solves from the iterate in the system's loads. On success X holds the solution, and F, Q, G and C belong to it.
    /// </summary>
    /// <param name="useCharges">False leaves Q out (operating point).</param>
    /// <param name="a">Factor of F; 1 for an operating point.</param>
    /// <param name="target">Right-hand side r, or null for zero.</param>
    /// <param name="excitation">Time-dependent terms of F.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="goal">Weighted size that the estimated remaining error must fall below.</param>
    /// <param name="limit">Largest number of iterations.</param>
    /// <param name="exact">True to take updates for rounding only where each equation is solved to rounding as well: beside an island whose voltages rounding moves by millivolts, a diode on it
    /// has a current all the same.</param>
    public bool Solve(bool useCharges, double a, double[]? target, double[] excitation, double[] weight, double goal, int limit, bool exact = false)
    {
        var l = system.Loads;
        var dx = Update;
        var coefficient = useCharges ? a : -1;
        var refresh = coefficient != factoredCoefficient;
        if (!refresh && useCharges && freshStarts > 0)
        {
            (refresh, freshStarts) = (true, freshStarts - 1);
        }

        // What a first update leaves is known apart for old factors and for new ones: what new ones promise, old ones do not keep.
        var beganOld = !refresh;
        ref var firstRate = ref beganOld ? ref oldRate : ref freshRate;
        var rate = firstRate;
        var (before, near, isRounding, stale) = (double.PositiveInfinity, false, false, false);
        SingularUnknown = 0;
        l.Limiting = true;
        for (var iteration = 0; iteration <= limit; iteration++)
        {
            counters.Iterations++;
            system.Evaluate(excitation);
            Residual(useCharges, a, target);
            if (near && !l.Limited)
            {
                var isBalanced = useCharges ? before <= Negligible * goal || CurrentsBalance(a, target!) : !(exact && isRounding) || RowsAreRounded(a, target);
                if (isBalanced && (!stale || StillHeld(useCharges, a, weight)))
                {
                    return true;
                }

                // Small steps that get no smaller and leave too much current are no rounding, but old factors that took a blocked rectifier for one that conducts.
                refresh |= isBalanced || (stale && rate > SlowRate);
            }

            stale = !refresh;
            if (refresh)
            {
                if (!Factor(useCharges, a))
                {
                    return false;
                }

                factoredCoefficient = coefficient;
                if (beganOld)
                {
                    // Made after all: the next solves make theirs at once, and save the iteration.
                    freshStarts = FreshStarts;
                }
            }

            lu.Solve(dx);
            var size = Apply(weight);
            if (!double.IsFinite(size))
            {
                return GiveUp(weight);
            }

            if (system.IsLinear)
            {
                Carry(dx);
                return true;
            }

            if (stale && iteration == 0 && size > Absurd)
            {
                // Old factors that no longer fit may throw the iterate anywhere; it is taken back and new ones are made.
                TakeBack();
                refresh = true;
                continue;
            }

            if (iteration > 0 && before > 0)
            {
                // After a limited iterate, whose update may be volts or gigavolts, there is nothing to compare with.
                rate = double.IsFinite(before) ? Math.Min(size / before, 1) : 1;
                firstRate = iteration == 1 ? rate : Math.Max(firstRate, rate);
            }

            // Linear convergence at this rate leaves rate / (1 - rate) of the last update still to come. On a first
            // iteration the rate is the one seen before, taken with caution; the balance of currents has the last word.
            var trusted = iteration > 0 ? rate : Math.Pow(rate, 0.8);
            trusted = useCharges ? trusted : Math.Max(trusted, FastestRate);
            near = !l.Limited && (size * trusted <= goal * (1 - trusted) || size <= Negligible * goal);
            isRounding = !near && !l.Limited && iteration >= 2 && rate > StallRate && IsRounding(useCharges, a, target, weight, goal);
            near |= isRounding;

            refresh = l.Limited || (iteration > 0 && rate > SlowRate && !near);
            before = l.Limited ? double.PositiveInfinity : size;
        }

        return GiveUp(weight);
    }

    private bool GiveUp(double[] weight)
    {
        var (f, q) = (system.Loads.F, system.Loads.Q);
        var size = 0.0;
        WorstUnknown = 0;
        for (var i = 1; i < weight.Length; i++)
        {
            if (!double.IsFinite(f[i]) || !double.IsFinite(q[i]))
            {
                // Its own equation is no number; the update is none anywhere then, and tells nothing.
                WorstUnknown = i;
                break;
            }

            var s = Math.Abs(Update[i]) * weight[i];
            if (s > size || (double.IsNaN(s) && !double.IsNaN(size)))
            {
                (size, WorstUnknown) = (s, i);
            }
        }

        Invalidate();
        return false;
    }

    /// <summary>Applies the inverse of the present factors to a vector, in place.</summary>
    public void ApplyInverse(double[] vector) => lu.Solve(vector);

    /// <summary>
    /// How far rounding alone moves each unknown, estimated: every term of a row may be wrong by a unit in its last place. It
    /// is large where a part of the circuit hangs on next to nothing, such as a bulk capacitor whose bridge is blocked: what
    /// is left there of 300 V and a hundred microfarads decides on volts.
    /// </summary>
    /// <param name="useCharges">See <see cref="Solve"/>.</param>
    /// <param name="a">See <see cref="Solve"/>.</param>
    /// <param name="target">See <see cref="Solve"/>.</param>
    public double[] RoundingNoise(bool useCharges, double a, double[]? target)
    {
        RoundRows(useCharges ? 1 : 0, a, target);
        return Noisiest();
    }

    /// <summary>The part of it that the charges alone make: it grows as a step gets shorter, what currents make is there at every length.</summary>
    /// <param name="target">See <see cref="Solve"/>.</param>
    public double[] ChargeNoise(double[] target)
    {
        RoundRows(1, 0, target);
        return Noisiest();
    }

    /// <summary>What the rounding of charges may leave over in each row, estimated; they must be those of the last iterate.</summary>
    /// <param name="target">See <see cref="Solve"/>.</param>
    public double[] RoundCharges(double[] target)
    {
        RoundRows(1, 0, target);
        return noise;
    }

    private double[] Noisiest()
    {
        // Errors of one sign in all rows may cancel each other (both windings of a transformer, a capacitor and the gigohms that it hangs on) where real ones do not. Signs by the
        // digits of a row's number in base two: any two rows have different ones in some pattern, and the same in the first.
        Array.Clear(noisiest);
        for (var mask = 0; mask < noise.Length; mask = mask == 0 ? 1 : 2 * mask)
        {
            for (var i = 1; i < noise.Length; i++)
            {
                trial[i] = (i & mask) != 0 ? -noise[i] : noise[i];
            }

            lu.Solve(trial);
            for (var i = 1; i < noise.Length; i++)
            {
                noisiest[i] = Math.Max(noisiest[i], Math.Abs(trial[i]));
            }
        }

        return noisiest;
    }

    /// <summary>What rounding may leave over in each row, estimated: every term may be wrong by a unit in its last place.</summary>
    private void RoundRows(double charges, double a, double[]? target)
    {
        var l = system.Loads;
        Array.Clear(noise);
        for (var s = 1; s < rows.Length; s++)
        {
            noise[rows[s]] += (charges * Math.Abs(l.C[s]) + a * Math.Abs(l.G[s])) * Math.Abs(l.X[columns[s]]);
        }

        for (var i = 1; i < noise.Length; i++)
        {
            noise[i] = (noise[i] + (target is null ? 0 : Math.Abs(target[i]))) * UnitInLastPlace;
        }
    }

    private bool IsRounding(bool useCharges, double a, double[]? target, double[] weight, double goal)
    {
        RoundingNoise(useCharges, a, target);
        for (var i = 1; i < noise.Length; i++)
        {
            // Written so that a NaN is no.
            if (!(Math.Abs(Update[i]) * weight[i] <= goal + RoundingMargin * noisiest[i] * weight[i]))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>True when what is left over in each row, which stands in the update before it is solved for, may be rounding.</summary>
    private bool RowsAreRounded(double a, double[]? target)
    {
        RoundRows(0, a, target);
        for (var i = 1; i < noise.Length; i++)
        {
            if (!(Math.Abs(Update[i]) <= RoundingMargin * noise[i]))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>
    /// False when old factors pass an iterate where an unknown has lost what held it: a residue that was next to nothing beside a rectifier that conducts is
    /// kilovolts once it blocks and nothing but a leak is left. Nodes that hang together keep each other's diagonal large, so what led to others counts as well: a collector with its
    /// series resistance, on an opened lead, settled a thousand volts away by factors of a transistor that conducts.
    /// </summary>
    private bool StillHeld(bool useCharges, double a, double[] weight)
    {
        var l = system.Loads;
        var charges = useCharges ? 1 : 0;
        for (var i = 1; i < weight.Length; i++)
        {
            var s = diagonalSlot[i];
            var left = Math.Abs(Update[i]) * weight[i];
            var held = charges * l.C[s] + a * l.G[s];
            if (s == 0 || held == 0)
            {
                continue;
            }

            // What was lost is missing on the diagonal as well.
            if (left > Math.Abs(held) || (Math.Abs(held) < (1 - RoundedSum) * Math.Abs(jacobian[s]) && HasLostTie(i, charges, a, left)))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>True when a row has lost what led to another one or to the ground, and what is left of it would not hold the unknown.</summary>
    private bool HasLostTie(int row, double charges, double a, double left)
    {
        var l = system.Loads;
        var (now, had) = (0.0, 0.0);
        for (var k = rowStart[row]; k < rowStart[row + 1]; k++)
        {
            var s = slotsByRow[k];
            var held = charges * l.C[s] + a * l.G[s];
            (now, had) = (now + held, had + jacobian[s]);
            if (s != diagonalSlot[row] && Math.Abs(held) < Collapse * Math.Abs(jacobian[s]) && left > Math.Abs(held))
            {
                return true;
            }
        }

        // A row's sum is what it has to the ground; where that was nothing, it is the rounding of the others.
        return Math.Abs(now) < Collapse * Math.Abs(had) && Math.Abs(had) > RoundedSum * Math.Abs(jacobian[diagonalSlot[row]]) && left > Math.Abs(now);
    }

    private void Residual(bool useCharges, double a, double[]? target)
    {
        var (x, f, q) = (system.Loads.X, system.Loads.F, system.Loads.Q);
        var (wide, k) = (Vector<double>.Count, 1);
        for (; k <= x.Length - wide; k += wide)
        {
            var left = a * new Vector<double>(f, k);
            left = useCharges ? new Vector<double>(q, k) + left : left;
            (target is null ? -left : new Vector<double>(target, k) - left).CopyTo(Update, k);
        }

        for (; k < x.Length; k++)
        {
            var left = (useCharges ? q[k] : 0) + a * f[k];
            Update[k] = target is null ? -left : target[k] - left;
        }

        if (Shunt != 0)
        {
            for (var i = 1; i < x.Length; i++)
            {
                Update[i] -= ShuntSign(i) * Shunt * x[i];
            }
        }
    }

    /// <summary>Adds the update to the iterate.</summary>
    /// <returns>Its largest weighted element; NaN when there is one.</returns>
    private double Apply(double[] weight)
    {
        var x = system.Loads.X;
        var (wide, k, largest) = (Vector<double>.Count, 1, Vector<double>.Zero);
        for (; k <= x.Length - wide; k += wide)
        {
            var update = new Vector<double>(Update, k);
            (new Vector<double>(x, k) + update).CopyTo(x, k);

            // The maximum of anything and a NaN is a NaN.
            largest = Vector.Max(largest, Vector.Abs(update) * new Vector<double>(weight, k));
        }

        var size = 0.0;
        for (var lane = 0; lane < wide; lane++)
        {
            size = Math.Max(size, largest[lane]);
        }

        for (; k < x.Length; k++)
        {
            x[k] += Update[k];
            size = Math.Max(size, Math.Abs(Update[k]) * weight[k]);
        }

        return size;
    }

    private void TakeBack()
    {
        var x = system.Loads.X;
        for (var i = 1; i < x.Length; i++)
        {
            x[i] -= Update[i];
        }
    }

    private bool Factor(bool useCharges, double a)
    {
        var l = system.Loads;
        counters.Factorizations++;
        if (useCharges)
        {
            for (var s = 1; s < jacobian.Length; s++)
            {
                jacobian[s] = l.C[s] + a * l.G[s];
            }
        }
        else
        {
            for (var s = 1; s < jacobian.Length; s++)
            {
                jacobian[s] = a * l.G[s];
            }
        }

        if (Shunt != 0)
        {
            for (var i = 1; i < diagonalSlot.Length; i++)
            {
                jacobian[diagonalSlot[i]] += ShuntSign(i) * Shunt;
            }
        }

        if (lu.Refactor(jacobian) || lu.Factor(jacobian))
        {
            return true;
        }

        SingularUnknown = lu.SingularUnknown;
        factoredCoefficient = double.NaN;
        return false;
    }

    /// <summary>True when the currents at every node sum to zero well enough. Voltages alone do not tell: beside 170 V of
    /// swing, the millivolts that decide on a junction's current pass for nothing.</summary>
    private bool CurrentsBalance(double a, double[] target)
    {
        var q = system.Loads.Q;
        var sign = system.PowerSign;
        var (wide, k, moved, left) = (Vector<double>.Count, 1, Vector<double>.Zero, Vector<double>.Zero);
        for (; k <= q.Length - wide; k += wide)
        {
            var (charge, isNode) = (new Vector<double>(q, k), Vector.GreaterThan(new Vector<double>(sign, k), Vector<double>.Zero));
            moved = Vector.Max(moved, Vector.ConditionalSelect(isNode, Vector.Abs(charge - new Vector<double>(target, k)), Vector<double>.Zero));
            left = Vector.Max(left, Vector.ConditionalSelect(isNode, Vector.Abs(new Vector<double>(Update, k)) - Rounding * Vector.Abs(charge), Vector<double>.Zero));
        }

        var (mostMoved, mostLeft) = (0.0, 0.0);
        for (var lane = 0; lane < wide; lane++)
        {
            (mostMoved, mostLeft) = (Math.Max(mostMoved, moved[lane]), Math.Max(mostLeft, left[lane]));
        }

        for (; k < q.Length; k++)
        {
            if (sign[k] > 0)
            {
                mostMoved = Math.Max(mostMoved, Math.Abs(q[k] - target[k]));
                mostLeft = Math.Max(mostLeft, Math.Abs(Update[k]) - Rounding * Math.Abs(q[k]));
            }
        }

        // Charging currents count for the scale as well: a switch that empties a capacitor carries them past every branch unknown.
        var most = CurrentTolerance * Math.Max(a * CurrentScale, mostMoved);
        if (mostLeft <= most)
        {
            return true;
        }

        // The terms of a row may be large although their sum is not: a capacitor between two nodes that float together.
        RoundRows(1, a, target);
        for (var i = 1; i < q.Length; i++)
        {
            if (sign[i] > 0 && !(Math.Abs(Update[i]) <= most + RoundingMargin * noise[i]))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Moves F and Q of a linear circuit from the evaluated iterate to the solution.</summary>
    private void Carry(double[] step)
    {
        var l = system.Loads;
        var (f, q, g, c) = (l.F, l.Q, l.G, l.C);
        for (var s = 1; s < rows.Length; s++)
        {
            var d = step[columns[s]];
            f[rows[s]] += g[s] * d;
            q[rows[s]] += c[s] * d;
        }

        f[0] = q[0] = 0;
    }
}
