namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// Mean current of a capacitor-input rectifier for a mean output voltage: <see cref="ChargingCycle"/> solved for its two angles. A table for a few resistances gives a first
/// guess, Newton's method the rest, so the result depends on the arguments alone and is as smooth as the law.
/// </summary>
internal sealed class ChargingLaw
{
    private const int Rows = 96;
    private const int MostIterations = 40;
    private const int Halvings = 60;

    // Part of the first angle after a step of which Newton's method is as near as rounding lets it come: the next step would be its square, or noise.
    private const double Close = 1e-8;

    private readonly double omega, farads, esr, drop, period;
    private readonly List<Table> tables = [];

    /// <summary>Creates a law.</summary>
    /// <param name="frequency">Frequency of the line in hertz.</param>
    /// <param name="pulses">Pulses of charge in a cycle, 1 or 2.</param>
    /// <param name="farads">Capacitance in farads.</param>
    /// <param name="esr">Its series resistance in ohms.</param>
    /// <param name="drop">Threshold voltage of the diodes in the current's way, in volts.</param>
    /// <param name="ohms">Resistances of the whole loop that are to be expected, series resistance included.</param>
    public ChargingLaw(double frequency, int pulses, double farads, double esr, double drop, IEnumerable<double> ohms)
    {
        (omega, this.farads, this.esr, this.drop) = (2 * Math.PI * frequency, farads, esr, drop);
        period = 2 * Math.PI / pulses;
        foreach (var r in ohms)
        {
            tables.Add(new Table(r * omega * farads, period, esr * omega * farads));
        }
    }

    /// <summary>Mean current and mean square of the charging current, with their derivatives by crest (2), output voltage (3) and loop resistance (4).</summary>
    /// <param name="crest">Crest of the source in volts.</param>
    /// <param name="output">Mean output voltage in volts.</param>
    /// <param name="ohms">Resistance of the whole loop in ohms, series resistance of the capacitor included.</param>
    public (Slopes Current, Slopes Square) At(double crest, double output, double ohms)
    {
        var (a, u, r) = (Slopes.Of(crest, 2), Slopes.Of(output, 3), Slopes.Of(ohms, 4));
        if (!(output < crest - drop))
        {
            return (0, 0);
        }

        if (!(crest > 0))
        {
            // An output that something drives below zero: the diodes conduct, and the source has no part in it.
            var through = (a - drop - u) / (r - esr);
            return (through, through * through);
        }

        // In units of the crest: what the mean of the period plus the drop across the series resistance has to come to.
        var target = (output + drop) / crest;
        var q = ohms * omega * farads;
        var (alpha, beta) = Nearest(q).Guess(target);
        if (target > 0 && Refine(ref alpha, ref beta, q, target) && alpha is >= ChargingCycle.Least and <= ChargingCycle.Largest)
        {
            return Solved(alpha, beta, a, u, r);
        }

        if (Level(ChargingCycle.Largest, q, out var widest) >= target)
        {
            // Beyond the law's end the diodes conduct all the time, and more current is a direct one: it passes all of the loop but the capacitor, and its square and
            // twice its product with the mean add to the mean square.
            var (current, square, voltage) = Edge(ChargingCycle.Largest, widest, a, r);
            var more = (voltage - u) / (r - esr);
            return (current + more, square + more * (2 * current + more));
        }

        if (Level(ChargingCycle.Least, q, out var narrowest) <= target)
        {
            // Next to no load: a straight line down to none where the output stands at the crest.
            var (current, square, voltage) = Edge(ChargingCycle.Least, narrowest, a, r);
            var share = (a - drop - u) / (a - drop - voltage);
            return (current * share, square * share);
        }

        Search(q, target, out alpha, out beta);
        return Solved(alpha, beta, a, u, r);
    }

    /// <summary>Output, its threshold included, as a part of the crest below which the diodes conduct all the time.</summary>
    /// <param name="ohms">Resistance of the whole loop in ohms, series resistance of the capacitor included.</param>
    public double Widest(double ohms) => Level(ChargingCycle.Largest, ohms * omega * farads, out _);

    /// <summary>The table whose resistance is nearest by ratio. A loop, since this is asked in every iteration and must allocate nothing.</summary>
    private Table Nearest(double q)
    {
        var best = tables[0];
        foreach (var table in tables)
        {
            best = Math.Abs(Math.Log(table.Q / q)) < Math.Abs(Math.Log(best.Q / q)) ? table : best;
        }

        return best;
    }

    private (Slopes Current, Slopes Square) Solved(double alpha, double beta, Slopes a, Slopes u, Slopes r)
    {
        var q = r * (omega * farads);
        var cycle = ChargingCycle.Of(Slopes.Of(alpha, 0), Slopes.Of(beta, 1), q, period);
        var balance = cycle.Mean + esr * omega * farads * cycle.Drawn - (u + drop) / a;
        var unit = a * (omega * farads);
        return (Implicit(unit * cycle.Drawn, cycle.End, balance), Implicit(unit * unit * cycle.Square, cycle.End, balance));
    }

    /// <summary>Current, mean square and output voltage at a given first angle.</summary>
    private (Slopes Current, Slopes Square, Slopes Voltage) Edge(double alpha, double beta, Slopes a, Slopes r)
    {
        var cycle = ChargingCycle.Of(alpha, Slopes.Of(beta, 1), r * (omega * farads), period);
        var unit = a * (omega * farads);
        var fixedAngle = Slopes.Of(alpha, 0);
        return (Implicit(unit * cycle.Drawn, cycle.End, fixedAngle), Implicit(unit * unit * cycle.Square, cycle.End, fixedAngle),
            Implicit(a * (cycle.Mean + esr * omega * farads * cycle.Drawn) - drop, cycle.End, fixedAngle));
    }

    /// <summary>The derivatives of a result whose two angles follow from two conditions (theorem of implicit functions).</summary>
    private static Slopes Implicit(Slopes result, Slopes first, Slopes second)
    {
        var determinant = first[0] * second[1] - first[1] * second[0];
        Span<double> by = stackalloc double[3];
        for (var k = 0; k < 3; k++)
        {
            var (f, s) = (first[k + 2], second[k + 2]);
            var alpha = (-f * second[1] + s * first[1]) / determinant;
            var beta = (-s * first[0] + f * second[0]) / determinant;
            by[k] = result[k + 2] + result[0] * alpha + result[1] * beta;
        }

        return Slopes.With(result.Value, 0, 0, by[0], by[1], by[2]);
    }

    private bool Refine(ref double alpha, ref double beta, double q, double target)
    {
        for (var n = 0; n < MostIterations; n++)
        {
            var cycle = ChargingCycle.Of(Slopes.Of(alpha, 0), Slopes.Of(beta, 1), q, period);
            var balance = cycle.Mean + esr * omega * farads * cycle.Drawn - target;
            var determinant = cycle.End[0] * balance[1] - cycle.End[1] * balance[0];
            var da = (-cycle.End.Value * balance[1] + balance.Value * cycle.End[1]) / determinant;
            var db = (-balance.Value * cycle.End[0] + cycle.End.Value * balance[0]) / determinant;
            if (!(Math.Abs(da) + Math.Abs(db) < 1))
            {
                return false;
            }

            (alpha, beta) = (alpha + da, beta + db);
            if (!(alpha is > 0 and < Math.PI / 2 && beta > -alpha && beta < alpha))
            {
                return false;
            }

            if (Math.Abs(da) + Math.Abs(db) < Close * alpha)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Newton's method between bounds, for where the guess was too far away: the end of conduction follows the beginning.</summary>
    private void Search(double q, double target, out double alpha, out double beta)
    {
        var (low, high) = (ChargingCycle.Least, ChargingCycle.Largest);
        (alpha, beta) = ((low + high) / 2, 0);
        for (var n = 0; n < Halvings; n++)
        {
            beta = Table.EndOf(alpha, q, period);
            var cycle = ChargingCycle.Of(Slopes.Of(alpha, 0), Slopes.Of(beta, 1), q, period);
            var miss = cycle.Mean + esr * omega * farads * cycle.Drawn - target;
            (low, high) = miss.Value > 0 ? (alpha, high) : (low, alpha);
            var next = Between(alpha - miss.Value / (miss[0] - miss[1] * cycle.End[0] / cycle.End[1]), low, high);
            if (Math.Abs(next - alpha) <= Close * alpha)
            {
                return;
            }

            alpha = next;
        }
    }

    private static double Between(double x, double low, double high) => x > low && x < high ? x : (low + high) / 2;

    private double Level(double alpha, double q, out double beta)
    {
        beta = Table.EndOf(alpha, q, period);
        var cycle = ChargingCycle.Of(alpha, beta, q, period);
        return cycle.Mean.Value + esr * omega * farads * cycle.Drawn.Value;
    }

    /// <summary>Angles over the output's level at one resistance.</summary>
    private sealed class Table
    {
        private readonly double[] alphas = new double[Rows];
        private readonly double[] betas = new double[Rows];
        private readonly double[] levels = new double[Rows];

        public Table(double q, double period, double esr)
        {
            Q = q;
            for (var k = 0; k < Rows; k++)
            {
                alphas[k] = ChargingCycle.Least + (ChargingCycle.Largest - ChargingCycle.Least) * k / (Rows - 1);
                betas[k] = EndOf(alphas[k], q, period);
                var cycle = ChargingCycle.Of(alphas[k], betas[k], q, period);
                levels[k] = cycle.Mean.Value + esr * cycle.Drawn.Value;
            }
        }

        public double Q { get; }

        public static double EndOf(double alpha, double q, double period)
        {
            var (low, high) = (-alpha * (1 - 1e-6), alpha);
            var beta = (low + high) / 2;
            for (var n = 0; n < Halvings; n++)
            {
                var end = ChargingCycle.Of(alpha, Slopes.Of(beta, 1), q, period).End;
                (low, high) = end.Value < 0 ? (beta, high) : (low, beta);
                var next = Between(beta - end.Value / end[1], low, high);
                if (Math.Abs(next - beta) <= Close * alpha)
                {
                    return next;
                }

                beta = next;
            }

            return beta;
        }

        public (double Alpha, double Beta) Guess(double level)
        {
            var (low, high) = (0, Rows - 1);
            while (high - low > 1)
            {
                var middle = (low + high) / 2;
                (low, high) = levels[middle] > level ? (middle, high) : (low, middle);
            }

            var t = Math.Clamp((levels[low] - level) / (levels[low] - levels[high]), 0, 1);
            return (alphas[low] + t * (alphas[high] - alphas[low]), betas[low] + t * (betas[high] - betas[low]));
        }
    }
}
