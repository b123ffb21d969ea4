using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>
/// Follows the envelope of a run that repeats itself nearly from period to period: computes a few periods, leaps over many.
/// <para>
/// The charges at the calm instant of each period change smoothly with its number n. Their increment per period takes the place of a
/// derivative, and a leap sums the polynomial through known increments: a multirevolution Adams formula (Petzold 1981; Kundert, White and
/// Sangiovanni-Vincentelli 1988; both from memory). After the leap two periods are computed. What the first one gained, against what the
/// polynomial promised, corrects the charges by an implicit formula, solved with what <see cref="SlowModes"/> knows of the period's
/// response; the second one heals what rings fast (projective integration, Gear and Kevrekidis 2003, from memory), corrects again and is kept.
/// </para>
/// </summary>
internal sealed class Envelope
{
    /// <summary>Nodes of the predicting polynomial. More of them promise more and keep less: with three, a loop that has settled keeps swinging
    /// within its tolerance and leaps stay short, with four no leap holds.</summary>
    public const int Nodes = 2;

    /// <summary>Power of the leap's length with which the distance of predictor and corrector goes.</summary>
    public const int EstimateOrder = Nodes + 1;

    /// <summary>Periods computed after each leap.</summary>
    public const int Burst = 2;

    /// <summary>Share of the accuracy that one leap may use up.</summary>
    private const double LeapShare = 0.1;

    /// <summary>Distance of predictor and corrector, in errors of the corrector: 5/12 and 1/12 of the same derivative.</summary>
    private const double Milne = 6;

    /// <summary>Excursion within a period, relative to the largest value, beyond which a charge counts as forgotten at its end.</summary>
    private const double Forgotten = 0.8;

    /// <summary>Excursion below which a charge counts as kept over many periods.</summary>
    private const double Lasting = 0.03;

    /// <summary>Relative size of a deviation that is tried.</summary>
    private const double Trial = 0.01;

    /// <summary>The same at most, at loose accuracies.</summary>
    private const double MostTrial = 0.03;

    /// <summary>
    /// Distance, in accuracies asked, that the prediction of what rings and is forgotten within a period may be off. It does not
    /// pile up; waveforms between computed periods are interpolated from both sides, which is that much better than extrapolation.
    /// </summary>
    private const double RingShare = 50;

    /// <summary>The same at most, whatever the accuracy, as a part of the largest value.</summary>
    private const double MostRing = 0.2;

    /// <summary>Periods over which the response of a period counts as known; what it is off by shows in every leap and takes that back.</summary>
    private const int ModesLast = 400;

    private readonly CircuitSystem system;
    private readonly TransientRun run;
    private readonly PeriodStepper stepper;
    private readonly ChargeScale scale;
    private readonly CutCharges cuts;
    private readonly double accuracy;
    private readonly IncrementHistory history = new();
    private readonly SlowModes modes = new();
    private readonly LeapLength length = new();
    private readonly bool[] slow;
    private readonly bool[] keeps;
    private int modesFrom = -1;
    private ComputedPeriod? last;

    public Envelope(CircuitSystem system, TransientRun run, PeriodStepper stepper, ChargeScale scale, CutCharges cuts, double accuracy)
    {
        (this.system, this.run, this.stepper, this.scale, this.cuts, this.accuracy) = (system, run, stepper, scale, cuts, accuracy);
        slow = new bool[system.Size + 1];
        keeps = new bool[system.Size + 1];
    }

    private double Ring => Math.Min(RingShare * accuracy, MostRing);

    /// <summary>Periods computed so far, trials included.</summary>
    public int Computed { get; private set; }

    /// <summary>Goes on from the start of a period to the end of a later one, which is computed.</summary>
    /// <param name="number">Number of the period at whose start the run stands.</param>
    /// <param name="total">Number of whole periods of the run.</param>
    /// <param name="accepted">Told after each accepted point.</param>
    /// <returns>The computed period to be kept; those between the last and this one were leapt over. Null when the run ended.</returns>
    public ComputedPeriod? Next(int number, int total, Action accepted)
    {
        while (true)
        {
            var leap = length.Propose(history, total - number, Burst);
            if (leap > 0)
            {
                Sort();
                var dry = DryRun(number, leap);
                if (dry > 1)
                {
                    length.Hesitate(leap, dry);
                    continue;
                }

                if (!LearnModes(number, accepted))
                {
                    return null;
                }
            }

            var period = leap > 0 ? Leap(number, leap, accepted) : Step(number, accepted);
            if (period is not null || run.Status != RunStatus.Running)
            {
                return period;
            }
        }
    }

    private ComputedPeriod? Step(int number, Action accepted)
    {
        var period = Compute(number, false, accepted);
        if (period is null)
        {
            return null;
        }

        if (last is not null && !period.HappensAs(last))
        {
            history.Clear();
            modesFrom = -1;
            length.Restart();
        }

        Remember(period, period.EndCharge);
        return period;
    }

    /// <summary>Tells slow rows from fast ones by how far they went within the last period.</summary>
    private void Sort()
    {
        for (var k = 1; k < slow.Length; k++)
        {
            keeps[k] = scale.Excursion[k] < Lasting;
            if (slow[k] != scale.Excursion[k] < Forgotten && scale.Weight[k] > 0)
            {
                slow[k] = !slow[k];
                modesFrom = -1;
            }
        }
    }

    /// <summary>How well the leap would have predicted the last computed period, in tolerances; 0 when that cannot be told.</summary>
    private double DryRun(int number, int leap)
    {
        var start = history.Find(number - leap - 1);
        var nodes = history.Pick(Nodes, leap + 1, number - leap - 1);
        if (start is null || nodes.Count < Nodes)
        {
            return modesFrom < 0 ? double.PositiveInfinity : 0;
        }

        var miss = Difference(new LeapFormula(start.End, number - leap, nodes).Predict(number, keeps), last!.EndCharge);
        return Math.Max(scale.Size(miss, slow, false) / Ring, Persisting(miss) / Milne);
    }

    /// <summary>Tries out what a period makes of deviations of the slow charges.</summary>
    /// <returns>False when the run ended.</returns>
    private bool LearnModes(int number, Action accepted)
    {
        if (modesFrom >= 0 && number - modesFrom < ModesLast)
        {
            return true;
        }

        var before = new RunMemory(system, run);
        modes.Clear([.. scale.Weight.Select((w, k) => slow[k] ? w : 0)]);
        foreach (var unknown in system.Unknowns)
        {
            var direction = scale.ChargeOf(unknown.Index);
            var (slowSize, fastSize) = (scale.Size(direction, slow, true), scale.Size(direction, slow, false));
            if (!(slowSize > fastSize) || modes.Novelty(direction) < 0.1)
            {
                continue;
            }

            var deviation = Scaled(direction, Math.Clamp(10 * accuracy, Trial, MostTrial) / slowSize);
            system.Shift(stepper.Instant(number - 1) - run.Time);
            run.Jump(stepper.Instant(number - 1), cuts.Leave(Add(last!.StartCharge, deviation)), before.State);
            var period = Compute(number - 1, true, accepted);
            before.Restore(run);
            if (period is null)
            {
                return false;
            }

            if (period.HappensAs(last))
            {
                modes.Add(deviation, Difference(period.EndCharge, last.EndCharge));
            }
        }

        modesFrom = number;
        return true;
    }

    private ComputedPeriod? Leap(int number, int leap, Action accepted)
    {
        var before = new RunMemory(system, run);
        var at = number + leap;
        var picked = history.Pick(Nodes, leap + 1, number - 1);
        var formula = new LeapFormula(cuts.Enter((double[])before.Charge.Clone()), number, picked);
        var z0 = formula.Predict(at, keeps);
        system.Shift(stepper.Instant(at) - run.Time);
        run.Jump(stepper.Instant(at), cuts.Leave(z0), Extrapolate(picked, at));
        if (!run.ArmedGuards.SequenceEqual(last!.ArmedAfter))
        {
            return TakeBack(before, leap, double.PositiveInfinity);
        }

        var first = Compute(at, true, accepted);
        if (first is null)
        {
            return null;
        }

        if (!first.HappensAs(last))
        {
            return TakeBack(before, leap, double.PositiveInfinity);
        }

        var start = modes.Solve(Beta(formula, at, first, out var miss), miss, out var end);
        var (ring, drift) = (scale.Size(start, slow, false) / Ring, Persisting(end) / Milne);
        if (!(Math.Max(ring, drift) <= 1))
        {
            return TakeBack(before, leap, Math.Max(ring, drift));
        }

        var z1 = Add(first.EndCharge, end);
        before.Leap(run, stepper.Instant(at + 1), cuts.Leave(z1), first.EndState);
        var second = Compute(at + 1, true, accepted);
        if (second is null)
        {
            return null;
        }

        if (!second.HappensAs(last))
        {
            return TakeBack(before, leap, double.PositiveInfinity);
        }

        var start2 = modes.Solve(Beta(formula, at + 1, second, out var miss2), miss2, out var end2);
        var left = Persisting(end2) / 3;
        var size = Math.Max(Math.Max(ring, drift), left);
        if (!(left <= 1))
        {
            return TakeBack(before, leap, left);
        }

        length.Accept(leap, size);
        if (run.Status == RunStatus.Running)
        {
            run.Jump(stepper.Instant(at + 2), cuts.Leave(Add(second.EndCharge, end2)), second.EndState);
            if (!stepper.Settle(at + 2))
            {
                return null;
            }
        }

        Remember(second, cuts.Enter(run.Charges.ToArray()));
        return second;
    }

    private double[] Beta(LeapFormula formula, int at, ComputedPeriod period, out double[] miss)
    {
        miss = formula.Miss(at, period.StartCharge, period.Increment, keeps, out var beta);
        return beta;
    }

    /// <summary>Largest error that stays, in what one leap may leave: what relaxes until the next leap may be as far off as the accuracy asked.</summary>
    private double Persisting(double[] error)
    {
        var size = 0.0;
        for (var k = 1; k < error.Length; k++)
        {
            if (slow[k])
            {
                size = Math.Max(size, Math.Abs(error[k]) * scale.Weight[k] / ((keeps[k] ? LeapShare : 1) * accuracy));
            }
        }

        return size;
    }

    /// <summary>The unknowns at the start of a period: where Newton starts.</summary>
    private static double[] Extrapolate(List<HistoryNode> nodes, int at)
    {
        var weights = Polynomial.At([.. nodes.Select(n => n.Number)], at - 1);
        var x = new double[nodes[0].State.Length];
        for (var j = 0; j < weights.Length; j++)
        {
            for (var k = 1; k < x.Length; k++)
            {
                x[k] += weights[j] * nodes[j].State[k];
            }
        }

        return x;
    }

    private ComputedPeriod? TakeBack(RunMemory before, int leap, double size)
    {
        before.Restore(run);
        length.Reject(leap, size);
        return null;
    }

    private ComputedPeriod? Compute(int number, bool leapt, Action accepted)
    {
        Computed++;
        return stepper.Compute(number, leapt, accepted);
    }

    private void Remember(ComputedPeriod period, double[] end)
    {
        history.Add(new HistoryNode(period.Number, period.Increment, end, period.EndState));
        last = period;
    }

    private static double[] Scaled(double[] a, double factor) => [.. a.Select(x => x * factor)];

    private static double[] Add(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x + y)];

    private static double[] Difference(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x - y)];
}
