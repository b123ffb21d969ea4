using System.Numerics;
using BoardSim.Engine.Analyses.WideSteps;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Computes the stages of one step of a <see cref="StageMethod"/> for <c>dQ/dt + F = 0</c>, with the charges as the
/// integrated quantity: each stage solves <c>Q(X) + gamma h F(X) = Q0 - h sum a F</c>. Allocates nothing after construction.
/// </summary>
internal sealed class StageSolver
{
    /// <summary>Share of the error tolerance that Newton may leave unsolved.</summary>
    private const double NewtonShare = 0.1;

    /// <summary>Multiple of the rounding error of one solve that the differences of several may hold.</summary>
    private const double RoundingMargin = 16;

    /// <summary>A junction that nothing but junctions hold walks down its exponential by one thermal voltage per iteration, from
    /// amperes to nanoamperes: a shorter step would not shorten that walk.</summary>
    private const int IterationLimit = 40;

    private const double UnitInLastPlace = 2.220446049250313e-16;

    private const int MaxPredictorStages = 3;

    /// <summary>Distance of the dense output from the inner stage, in tolerances of a step, beyond which it is replaced.</summary>
    private const double OutlierLimit = 30;

    /// <summary>The same as a share of the way that the unknown goes within the step: at a tight accuracy the inner stage itself is
    /// many tolerances off, and a straight line would be far worse than the cubic.</summary>
    private const double OutlierShare = 0.25;

    /// <summary>Part of its swing by which two nodes' rates may differ and still be taken for one swing of both.</summary>
    private const double AlikeShare = 0.3;

    /// <summary>Distance from a stage as a share of that way which tells a kink from the stage's own inaccuracy.</summary>
    private const double KinkShare = 0.03;

    /// <summary>Length over which a source's rate of change is taken, as a part of the step.</summary>
    private const double RateStep = 1e-4;

    /// <summary>Strays of <see cref="TryJump"/>, as the conductance in siemens that a capacitance is over a step: the first, the least that is one still, and the largest.</summary>
    private const double FirstStray = 1e3;
    private const double LeastStray = 1e-12;
    private const double LargestStray = 1e15;

    private const int MostStraySteps = 600;

    private readonly CircuitSystem system;
    private readonly NewtonSolver newton;
    private readonly StageMethod method;
    private readonly bool[] followsFromRates;
    private readonly double[] isJudged;
    private readonly bool[] isVoltage;
    private readonly (int Unknown, double StartSwing, double EndSwing)[] straightened;
    private readonly double[] excitation;
    private readonly double[] target;
    private readonly double[] error;
    private readonly double[] sourceRate;
    private readonly double[][] slope;
    private double[] before;
    private double beforeLength;
    private double length;
    private double tried;
    private readonly int ratePasses;
    private bool lastWasEuler;
    private int straightenedCount;
    private Guess guess;

    public StageSolver(CircuitSystem system, NewtonSolver newton, StageMethod method, bool[] followsFromRates)
    {
        (this.system, this.newton, this.method, this.followsFromRates) = (system, newton, method, followsFromRates);
        ratePasses = method.Order >= 4 ? 2 : 1;
        isJudged = [.. followsFromRates.Select(follows => follows ? 0.0 : 1.0)];
        var size = system.Size + 1;
        isVoltage = new bool[size];
        foreach (var unknown in system.Unknowns)
        {
            isVoltage[unknown.Index] = unknown.Kind == UnknownKind.Voltage;
        }

        straightened = new (int, double, double)[size];
        excitation = new double[size];
        target = new double[size];
        error = new double[size];
        sourceRate = new double[size];
        (DenseMisses, ErrorSizes) = (new double[size], new double[size]);
        slope = Vectors(method.Stages, size);
        Values = Vectors(method.Stages, size);
        before = new double[size];
        StartRate = new double[size];
        EndRate = new double[size];
        StartCharge = new double[size];
        EndCharge = new double[size];
        InnerCharge = new double[size];
    }

    /// <summary>Unknowns at each stage; the first is the step's start, the last its end.</summary>
    public double[][] Values { get; }

    /// <summary>Largest distance, in tolerances, between the dense output of the last step and its inner stage.</summary>
    public double DenseMiss { get; private set; }

    /// <summary>The same by unknown.</summary>
    public double[] DenseMisses { get; }

    /// <summary>Size of the error estimate of the last step by unknown, in tolerances; where the largest is at most one, not all are set.</summary>
    public double[] ErrorSizes { get; }

    /// <summary>Rate of change of the unknowns at the start of the last accepted step.</summary>
    public double[] StartRate { get; private set; }

    /// <summary>Rate of change of the unknowns at its end.</summary>
    public double[] EndRate { get; private set; }

    /// <summary>Charges at the step's start.</summary>
    public double[] StartCharge { get; }

    /// <summary>Charges at the step's end, after <see cref="TryStep"/>.</summary>
    public double[] EndCharge { get; }

    /// <summary>Charges at the method's most accurate inner stage, after <see cref="TryStep"/>.</summary>
    public double[] InnerCharge { get; }

    /// <summary>Unknowns at that stage.</summary>
    public double[] InnerValues => Values[method.DenseStage];

    /// <summary>Its instant as a fraction of the step; zero for an Euler step, which has no inner stage.</summary>
    public double InnerNode => lastWasEuler ? 0 : method.Nodes[method.DenseStage];

    /// <summary>Energy in joules that all parts absorbed over the step, sources counted negative (charges not included).</summary>
    public double AbsorbedEnergy { get; private set; }

    /// <summary>Energy in joules that independent sources delivered over the step.</summary>
    public double SourceEnergy { get; private set; }

    /// <summary>Where the guesses of the stages come from.</summary>
    private enum Guess
    {
        /// <summary>From what lies before the step.</summary>
        Before,

        /// <summary>From the dense output of a longer attempt at the same step.</summary>
        Longer,

        /// <summary>From the stages of an attempt that was hardly longer or shorter.</summary>
        Alike,
    }

    /// <summary>Solves a step again that has been solved with another length; <see cref="FindRates"/> was called after the first time.</summary>
    /// <param name="time">Start of the step in seconds.</param>
    /// <param name="h">Its length in seconds; at the first time no more than the one before.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="again">False at the first time, whose guesses come from the dense output.</param>
    /// <returns>False when Newton failed.</returns>
    public bool TryAgain(double time, double h, double[] weight, bool again)
    {
        guess = again ? Guess.Alike : Guess.Longer;
        tried = length;
        var solved = TryStep(time, h, weight, out _, out _);
        guess = Guess.Before;
        return solved;
    }

    /// <summary>Solves all stages of a step.</summary>
    /// <param name="time">Start of the step in seconds.</param>
    /// <param name="h">Its length in seconds.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="size">Receives the weighted size of the error estimate.</param>
    /// <param name="worst">Receives the unknown with the largest error, or the one that did not converge.</param>
    /// <returns>False when Newton failed.</returns>
    public bool TryStep(double time, double h, double[] weight, out double size, out int worst)
    {
        var l = system.Loads;
        var a = method.Gamma * h;
        (AbsorbedEnergy, SourceEnergy, size, worst) = (0, 0, 0, 0);
        length = h;
        AddPower(time, 0, h);
        for (var i = 1; i < method.Stages; i++)
        {
            var at = time + method.Nodes[i] * h;
            system.Excite(at, excitation);
            StartCharge.CopyTo(target, 0);
            var row = method.A[i];
            for (var j = 0; j < i; j++)
            {
                AddScaled(target, -h * row[j], slope[j]);
            }

            Predict(i, h);
            if (!newton.Solve(true, a, target, excitation, weight, NewtonShare, IterationLimit))
            {
                worst = newton.SingularUnknown != 0 ? newton.SingularUnknown : newton.WorstUnknown;
                return false;
            }

            l.X.CopyTo(Values[i], 0);
            FindSlope(slope[i], l.Q, a);
            if (i == method.DenseStage)
            {
                l.Q.CopyTo(InnerCharge, 0);
            }

            AddPower(at, i, h);
        }

        l.Q.CopyTo(EndCharge, 0);
        lastWasEuler = false;
        EstimateError(h, weight, out size, out worst);
        return true;
    }

    /// <summary>One backward Euler step, which needs nothing but the charges: the way in after a discontinuity.</summary>
    /// <param name="time">Start of the step.</param>
    /// <param name="h">Its length.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="worst">Receives the unknown that did not converge.</param>
    public bool TryEuler(double time, double h, double[] weight, out int worst)
    {
        var l = system.Loads;
        worst = 0;
        system.Excite(time + h, excitation);
        Values[0].CopyTo(l.X, 0);
        newton.Invalidate();
        if (!newton.Solve(true, h, StartCharge, excitation, weight, NewtonShare, 50))
        {
            worst = newton.SingularUnknown != 0 ? newton.SingularUnknown : newton.WorstUnknown;
            return false;
        }

        EndEuler(h);
        return true;
    }

    /// <summary>
    /// The same across a fold: where what has no charge of its own holds itself on like a thyristor, the branch of solutions that the circuit was on has ended, and none lies near. A real circuit then goes where its strays lead it,
    /// in next to no time. So every unknown without charge is led by a stray of its own, as in the search for an operating point, whose share is made smaller as the circuit comes to rest; charges and fluxes stay what they are.
    /// </summary>
    /// <param name="time">Start of the step.</param>
    /// <param name="h">Its length.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    public bool TryJump(double time, double h, double[] weight)
    {
        var l = system.Loads;
        system.Excite(time + h, excitation);
        var last = (double[])Values[0].Clone();
        last.CopyTo(l.X, 0);
        try
        {
            var stray = FirstStray;
            for (var n = 0; n < MostStraySteps && stray <= LargestStray; n++)
            {
                newton.Shunt = stray < LeastStray ? 0 : h * stray;
                for (var k = 1; k < target.Length; k++)
                {
                    target[k] = StartCharge[k] + newton.ShuntSign(k) * newton.Shunt * last[k];
                }

                newton.Invalidate();
                l.Fresh = true;
                if (!newton.Solve(true, h, target, excitation, weight, NewtonShare, 50))
                {
                    last.CopyTo(l.X, 0);
                    stray *= 8;
                }
                else if (newton.Shunt == 0)
                {
                    EndEuler(h);
                    return true;
                }
                else
                {
                    l.X.CopyTo(last, 0);
                    stray /= 2;
                }
            }

            return false;
        }
        finally
        {
            newton.Shunt = 0;
            newton.Invalidate();
        }
    }

    private void EndEuler(double h)
    {
        var l = system.Loads;
        newton.Invalidate();
        lastWasEuler = true;
        l.Q.CopyTo(EndCharge, 0);
        l.X.CopyTo(Values[^1], 0);
        var f = slope[^1];
        for (var k = 1; k < f.Length; k++)
        {
            // Over so short a step, rounding of a charge makes a large current of nothing (a thousandth of a volt across windings
            // that are coupled perfectly): the currents themselves are more precise than the difference of charges.
            f[k] = StartCharge[k] == 0 && l.Q[k] == 0 ? 0 : l.F[k];
        }

        var (absorbed, delivered) = Power(Values[^1], f);
        (AbsorbedEnergy, SourceEnergy) = (h * absorbed, h * delivered);
        beforeLength = 0;
    }

    /// <summary>Takes over a step that another solver took from the same start.</summary>
    /// <param name="wide">That solver.</param>
    /// <param name="time">Start of the step in seconds.</param>
    public void Adopt(WideStepSolver wide, double time)
    {
        wide.Finish(time, Values[^1], EndCharge, slope[^1], EndRate);
        length = wide.Length;
        (lastWasEuler, DenseMiss) = (false, 0);
    }

    /// <summary>Largest part of a node's tolerance that rounding of the charges makes of the step just solved: what a shorter one would make worse. Currents that follow from charges have their noise, too, but it goes nowhere.</summary>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    public double ChargeNoise(double[] weight)
    {
        var noise = newton.ChargeNoise(lastWasEuler ? StartCharge : target);
        var largest = 0.0;
        for (var k = 1; k < noise.Length; k++)
        {
            var s = noise[k] * weight[k];

            // Written so that a NaN is the largest.
            if (system.PowerSign[k] > 0 && !(s <= largest))
            {
                largest = s;
            }
        }

        return largest;
    }

    /// <summary>Part of its tolerance that rounding of all terms makes of an unknown, of those with which something is wrong the least noisy; 0 when there is none.</summary>
    /// <param name="h">Its length.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="wrong">How wrong each unknown is.</param>
    /// <param name="limit">What is too much of that.</param>
    public double Noise(double h, double[] weight, double[] wrong, double limit)
    {
        var noise = newton.RoundingNoise(true, method.Gamma * h, target);
        var least = double.PositiveInfinity;
        for (var k = 1; k < noise.Length; k++)
        {
            if (wrong[k] > limit && noise[k] * weight[k] is var s && s < least)
            {
                least = s;
            }
        }

        return double.IsFinite(least) ? least : 0;
    }

    /// <summary>The same for the nodes of heat, in watts, as of the last <see cref="Residual"/>.</summary>
    public double HeatResidual { get; private set; }

    /// <summary>What is left over of the equations at the end of the step just solved.</summary>
    /// <param name="coefficient">gamma h of the step, or h of an Euler step.</param>
    /// <returns>Largest current in amperes that is left over at a node.</returns>
    public double Residual(double coefficient)
    {
        var rhs = lastWasEuler ? StartCharge : target;
        var worst = LeftOver(coefficient, rhs, null);
        if (worst > newton.CurrentTolerance * newton.CurrentScale)
        {
            // The terms of a row may be large although their sum is not: a capacitor between two nodes far from zero. They are added up only where it matters.
            worst = LeftOver(coefficient, rhs, newton.RoundCharges(rhs));
        }

        return worst;
    }

    /// <summary>Largest current that is left over at a node, less what the rounding of the charges makes: a millicoulomb, rounded, is a milliampere over a tenth of a femtosecond.</summary>
    private double LeftOver(double coefficient, double[] rhs, double[]? rounding)
    {
        var f = system.Loads.F;
        var (worst, heat) = (0.0, 0.0);
        for (var k = 1; k < rhs.Length; k++)
        {
            if (system.PowerSign[k] > 0)
            {
                var left = Math.Abs(EndCharge[k] - rhs[k] + coefficient * f[k]) - (rounding is null ? UnitInLastPlace * (Math.Abs(EndCharge[k]) + Math.Abs(rhs[k])) : rounding[k]);
                (worst, heat) = system.IsHeat[k] ? (worst, Math.Max(heat, left)) : (Math.Max(worst, left), heat);
            }
        }

        HeatResidual = heat / coefficient;
        return worst / coefficient;
    }

    /// <summary>Takes the step's end as the start of the next one.</summary>
    /// <param name="smooth">True when the solution goes on without a break, so that the stages help to predict.</param>
    public void Advance(bool smooth)
    {
        beforeLength = 0;
        if (smooth)
        {
            (before, Values[0]) = (Values[0], before);
            beforeLength = length;
        }

        (Values[0], Values[^1]) = (Values[^1], Values[0]);
        (slope[0], slope[^1]) = (slope[^1], slope[0]);
        (StartRate, EndRate) = (EndRate, StartRate);
        EndCharge.CopyTo(StartCharge, 0);
    }

    /// <summary>Prepares the dense output of the step just accepted: the rate of change of all unknowns at its end.</summary>
    /// <param name="time">End of the step.</param>
    /// <param name="h">Length of the step.</param>
    /// <param name="coefficient">gamma h of the step, or h of an Euler step: what the present factors belong to.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <remarks>
    /// Differentiating the equations gives C x' = -F where there is charge and G x' = -e' where there is none. Both sets are
    /// contained in (C + a G) d = defect of a guessed x', solved with the factors at hand. After an Euler step a is next to
    /// nothing, so the guess does not matter; after a full step it is the derivative of the polynomial through the stages. What
    /// is left of the guess's error then shrinks by a G / (C + a G), less than one and small where nothing is stiff; a method
    /// of order four needs that twice, or its dense output would be several times worse than its points.
    /// </remarks>
    public void FindRates(double time, double h, double coefficient, double[] weight)
    {
        if (lastWasEuler)
        {
            Array.Clear(EndRate);
        }
        else
        {
            GuessRate(h);
        }

        var delta = RateStep * h;
        system.Excite(time - delta, sourceRate);
        system.Excite(time, excitation);
        var (wide, at) = (Vector<double>.Count, 1);
        for (; at <= sourceRate.Length - wide; at += wide)
        {
            ((new Vector<double>(excitation, at) - new Vector<double>(sourceRate, at)) / delta).CopyTo(sourceRate, at);
        }

        for (; at < sourceRate.Length; at++)
        {
            sourceRate[at] = (excitation[at] - sourceRate[at]) / delta;
        }

        system.AddDrift(time, sourceRate);

        for (var pass = 0; pass < (lastWasEuler ? 1 : ratePasses); pass++)
        {
            system.RateDefect(EndRate, slope[^1], sourceRate, coefficient, error);
            newton.ApplyInverse(error);
            AddScaled(EndRate, 1, error);
        }

        DenseMiss = 0;
        if (!lastWasEuler)
        {
            straightenedCount = 0;
            StraightenOutliers(h, weight);
            StraightenCompanions(h);
        }
    }

    /// <summary>
    /// Where the cubic misses the inner stage by far, the rates are not to be trusted (a diode that began to conduct inside the
    /// step): there a straight line invents no peaks. The other inner stages are less accurate than the dense stage, so what they say
    /// counts only where it is a good part of the way that the unknown goes: a kink, seldom seen by one stage alone.
    /// </summary>
    private void StraightenOutliers(double h, double[] weight)
    {
        var (wide, worst, k) = (Vector<double>.Count, Vector<double>.Zero, 1);
        for (; k <= weight.Length - wide; k += wide)
        {
            var (x0, x1, r0, r1) = (new Vector<double>(Values[0], k), new Vector<double>(Values[^1], k), new Vector<double>(StartRate, k), new Vector<double>(EndRate, k));
            var (low, high, away, span, miss) = (Vector.Min(x0, x1), Vector.Max(x0, x1), Vector<double>.Zero, Vector<double>.Zero, Vector<double>.Zero);
            var (ends, w) = ((low, high), new Vector<double>(weight, k));
            for (var s = 1; s < Values.Length - 1; s++)
            {
                var (c, v) = (method.Nodes[s], new Vector<double>(Values[s], k));
                var u = 1 - c;
                var distance = Vector.Abs(u * u * ((1 + 2 * c) * x0 + h * c * r0) + c * c * ((3 - 2 * c) * x1 - h * u * r1) - v);
                (low, high, miss) = (Vector.Min(low, v), Vector.Max(high, v), Vector.Max(miss, distance));
                if (s == method.DenseStage)
                {
                    (away, span) = (distance, Vector.Max(ends.high, v) - Vector.Min(ends.low, v));
                }
            }

            var kink = Vector.ConditionalSelect(Vector.GreaterThan(miss, KinkShare * (high - low)), miss, Vector<double>.Zero);
            var judged = Vector.Max(away, kink) * w * new Vector<double>(isJudged, k);
            judged.CopyTo(DenseMisses, k);
            worst = Vector.Max(worst, judged);
            var fits = Vector.LessThan(away * w, new Vector<double>(OutlierLimit)) | Vector.LessThan(away, OutlierShare * span);
            if (!Vector.EqualsAll(fits, Vector<long>.AllBitsSet))
            {
                for (var lane = 0; lane < wide; lane++)
                {
                    if (fits[lane] == 0)
                    {
                        Straighten(k + lane, h);
                    }
                }
            }
        }

        for (var lane = 0; lane < wide; lane++)
        {
            DenseMiss = Math.Max(DenseMiss, worst[lane]);
        }

        for (; k < weight.Length; k++)
        {
            StraightenOutlier(k, h, weight[k]);
        }
    }

    /// <summary>The same for one unknown.</summary>
    private void StraightenOutlier(int k, double h, double weight)
    {
        var (x0, x1) = (Values[0][k], Values[^1][k]);
        var (low, high, away, span, miss) = (Math.Min(x0, x1), Math.Max(x0, x1), 0.0, 0.0, 0.0);
        for (var s = 1; s < Values.Length - 1; s++)
        {
            var (c, v) = (method.Nodes[s], Values[s][k]);
            var u = 1 - c;
            var distance = Math.Abs(u * u * ((1 + 2 * c) * x0 + h * c * StartRate[k]) + c * c * ((3 - 2 * c) * x1 - h * u * EndRate[k]) - v);
            (low, high, miss) = (Math.Min(low, v), Math.Max(high, v), Math.Max(miss, distance));
            if (s == method.DenseStage)
            {
                (away, span) = (distance, Math.Max(Math.Max(x0, x1), v) - Math.Min(Math.Min(x0, x1), v));
            }
        }

        DenseMisses[k] = Math.Max(away, miss > KinkShare * (high - low) ? miss : 0) * weight * isJudged[k];
        DenseMiss = Math.Max(DenseMiss, DenseMisses[k]);
        if (!(away * weight < OutlierLimit || away < OutlierShare * span))
        {
            Straighten(k, h);
        }
    }

    private void Straighten(int k, double h)
    {
        var chord = (Values[^1][k] - Values[0][k]) / h;
        if (isVoltage[k])
        {
            straightened[straightenedCount++] = (k, StartRate[k] - chord, EndRate[k] - chord);
        }

        EndRate[k] = StartRate[k] = chord;
    }

    /// <summary>
    /// What hangs on blocking diodes wanders as a whole: one node's swing is that of all. Drawn as a straight line at one of two nodes and as a cubic at the other, it would show
    /// in the voltage between them, where it has never been. So nodes that swing alike are drawn alike.
    /// </summary>
    private void StraightenCompanions(double h)
    {
        for (var (first, found) = (0, straightenedCount); first < found; first++)
        {
            var (_, startSwing, endSwing) = straightened[first];
            var most = AlikeShare * (Math.Abs(startSwing) + Math.Abs(endSwing));
            for (var k = 1; k < isVoltage.Length; k++)
            {
                var chord = (Values[^1][k] - Values[0][k]) / h;
                if (isVoltage[k] && Math.Abs(StartRate[k] - chord - startSwing) + Math.Abs(EndRate[k] - chord - endSwing) < most)
                {
                    EndRate[k] = StartRate[k] = chord;
                }
            }
        }
    }

    /// <summary>Value of all unknowns inside the last step, by the cubic through both ends with the rates there.</summary>
    /// <param name="theta">Position in the step, 0..1.</param>
    /// <param name="h">Length of the step in seconds.</param>
    /// <param name="x">Receives the unknowns.</param>
    public void Interpolate(double theta, double h, Span<double> x)
    {
        Cubic(theta, h, Values[0], Values[^1], StartRate, EndRate, x);
    }

    /// <summary>Slope at the end of the parabola through both ends and the method's most accurate inner stage. The rate at the
    /// start is left out on purpose: an error in it would grow from step to step.</summary>
    private void GuessRate(double h)
    {
        var c = method.Nodes[method.DenseStage];
        var (x0, xc, x1) = (Values[0], Values[method.DenseStage], Values[^1]);
        var (w0, wc, w1) = ((1 - c) / c / h, -1 / (c * (1 - c)) / h, (2 - c) / (1 - c) / h);
        var (wide, k) = (Vector<double>.Count, 1);
        for (; k <= EndRate.Length - wide; k += wide)
        {
            (w0 * new Vector<double>(x0, k) + wc * new Vector<double>(xc, k) + w1 * new Vector<double>(x1, k)).CopyTo(EndRate, k);
        }

        for (; k < EndRate.Length; k++)
        {
            EndRate[k] = w0 * x0[k] + wc * xc[k] + w1 * x1[k];
        }
    }

    private static double[][] Vectors(int count, int size)
    {
        var vectors = new double[count][];
        for (var i = 0; i < count; i++)
        {
            vectors[i] = new double[size];
        }

        return vectors;
    }

    /// <summary>What a stage has left over for dQ/dt, from its charges.</summary>
    private void FindSlope(double[] f, double[] charge, double a)
    {
        var (wide, k) = (Vector<double>.Count, 0);
        for (; k <= f.Length - wide; k += wide)
        {
            ((new Vector<double>(target, k) - new Vector<double>(charge, k)) / a).CopyTo(f, k);
        }

        for (; k < f.Length; k++)
        {
            f[k] = (target[k] - charge[k]) / a;
        }
    }

    private static void AddScaled(double[] target, double factor, double[] vector)
    {
        if (factor != 0)
        {
            var (wide, all) = (Vector<double>.Count, target.Length);
            var k = 0;
            for (; k <= all - wide; k += wide)
            {
                (new Vector<double>(target, k) + factor * new Vector<double>(vector, k)).CopyTo(target, k);
            }

            for (; k < all; k++)
            {
                target[k] += factor * vector[k];
            }
        }
    }

    /// <summary>
    /// Guesses a stage. The first runs on along the cubic of the step before (or the rate alone after a break), the others lie
    /// on the polynomial through the start, with its rate, and the stages known so far.
    /// </summary>
    private void Predict(int stage, double h)
    {
        var x = system.Loads.X;
        var c = method.Nodes[stage];
        if (guess == Guess.Longer)
        {
            // The end is overwritten by the last stage, the inner ones are not asked for.
            Cubic(c * h / tried, tried, Values[0], Values[^1], StartRate, EndRate, x);
            return;
        }

        if (guess == Guess.Alike)
        {
            Values[stage].CopyTo(x, 0);
            return;
        }

        if (stage == 1)
        {
            if (beforeLength > 0)
            {
                Cubic(1 + c * h / beforeLength, beforeLength, before, Values[0], EndRate, StartRate, x);
                return;
            }

            Values[0].CopyTo(x, 0);
            AddScaled(x, c * h, StartRate);
            return;
        }

        var first = Math.Max(1, stage - MaxPredictorStages);
        var (product, slope0) = (1.0, 0.0);
        for (var m = first; m < stage; m++)
        {
            product *= (method.Nodes[m] - c) / method.Nodes[m];
            slope0 += 1 / method.Nodes[m];
        }

        Array.Clear(x);
        AddScaled(x, product * (1 + c * slope0), Values[0]);
        AddScaled(x, product * c * h, StartRate);
        for (var j = first; j < stage; j++)
        {
            var cj = method.Nodes[j];
            var w = c * c / (cj * cj);
            for (var m = first; m < stage; m++)
            {
                if (m != j)
                {
                    w *= (c - method.Nodes[m]) / (cj - method.Nodes[m]);
                }
            }

            AddScaled(x, w, Values[j]);
        }
    }

    private static void Cubic(double theta, double h, double[] x0, double[] x1, double[] r0, double[] r1, Span<double> x)
    {
        var u = 1 - theta;
        var (fromValue, toValue) = (u * u * (1 + 2 * theta), theta * theta * (3 - 2 * theta));
        var (fromRate, toRate) = (h * theta * u * u, -h * theta * theta * u);
        var (wide, k) = (Vector<double>.Count, 0);
        for (; k <= x.Length - wide; k += wide)
        {
            (fromValue * new Vector<double>(x0, k) + toValue * new Vector<double>(x1, k) + fromRate * new Vector<double>(r0, k) + toRate * new Vector<double>(r1, k))
                .CopyTo(x[k..]);
        }

        for (; k < x.Length; k++)
        {
            x[k] = fromValue * x0[k] + toValue * x1[k] + fromRate * r0[k] + toRate * r1[k];
        }
    }

    private void EstimateError(double h, double[] weight, out double size, out int worst)
    {
        Array.Clear(error);
        for (var j = 0; j < method.Stages; j++)
        {
            AddScaled(error, -h * method.Error[j], slope[j]);
        }

        newton.ApplyInverse(error);
        (size, worst) = (0, 0);
        for (var k = 1; k < error.Length; k++)
        {
            var s = Math.Abs(error[k]) * weight[k];
            if (!followsFromRates[k] && !(s <= size))
            {
                (size, worst) = (s, k);
            }
        }

        if (size > 1)
        {
            DiscountRounding(h, weight, ref size, ref worst);
        }
    }

    /// <summary>Takes out of an error estimate that would fail the step what rounding makes of it; a shorter step would make that worse.</summary>
    private void DiscountRounding(double h, double[] weight, ref double size, ref int worst)
    {
        var noise = newton.RoundingNoise(true, method.Gamma * h, target);
        (size, worst) = (0, 0);
        for (var k = 1; k < error.Length; k++)
        {
            var s = Math.Max(0, Math.Abs(error[k]) - RoundingMargin * noise[k]) * weight[k];
            ErrorSizes[k] = followsFromRates[k] ? 0 : s;
            if (!followsFromRates[k] && !(s <= size))
            {
                (size, worst) = (s, k);
            }
        }
    }

    private void AddPower(double time, int stage, double h)
    {
        var b = method.A[^1][stage];
        if (b == 0)
        {
            return;
        }

        if (stage == 0)
        {
            system.Excite(time, excitation);
        }

        var (absorbed, delivered) = Power(Values[stage], slope[stage]);
        AbsorbedEnergy += b * h * absorbed;
        SourceEnergy += b * h * delivered;
    }

    private (double Absorbed, double Delivered) Power(double[] x, double[] f)
    {
        var sign = system.EnergySign;
        var (absorbed, delivered) = (0.0, 0.0);
        for (var k = 1; k < x.Length; k++)
        {
            var v = sign[k] * x[k];
            absorbed += v * f[k];
            delivered -= v * excitation[k];
        }

        return (absorbed, delivered);
    }
}
