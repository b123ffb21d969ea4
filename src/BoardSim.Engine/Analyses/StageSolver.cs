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
    private const double NewtonShare = 0.02;

    private const int IterationLimit = 12;

    private const int MaxPredictorPoints = 4;

    private readonly CircuitSystem system;
    private readonly NewtonSolver newton;
    private readonly StageMethod method;
    private readonly double[] excitation;
    private readonly double[] target;
    private readonly double[] error;
    private readonly double[][] slope;
    private readonly double[][] before;
    private readonly double[] beforeTime;
    private readonly double[] stageTime;
    private readonly int[] predictorPoint;
    private int beforeCount;
    private bool lastWasEuler;

    public StageSolver(CircuitSystem system, NewtonSolver newton, StageMethod method)
    {
        (this.system, this.newton, this.method) = (system, newton, method);
        var size = system.Size + 1;
        excitation = new double[size];
        target = new double[size];
        error = new double[size];
        slope = Vectors(method.Stages, size);
        Values = Vectors(method.Stages, size);
        before = Vectors(method.Stages, size);
        beforeTime = new double[method.Stages];
        stageTime = new double[method.Stages];
        predictorPoint = new int[MaxPredictorPoints];
        StartCharge = new double[size];
        EndCharge = new double[size];
    }

    /// <summary>Unknowns at each stage; the first is the step's start, the last its end.</summary>
    public double[][] Values { get; }

    /// <summary>Charges at the step's start.</summary>
    public double[] StartCharge { get; }

    /// <summary>Charges at the step's end, after <see cref="MeasureResidual"/>.</summary>
    public double[] EndCharge { get; }

    /// <summary>Energy in joules that all parts absorbed over the step, sources counted negative (charges not included).</summary>
    public double AbsorbedEnergy { get; private set; }

    /// <summary>Energy in joules that independent sources delivered over the step.</summary>
    public double SourceEnergy { get; private set; }

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
        var n = system.Size;
        var a = method.Gamma * h;
        (AbsorbedEnergy, SourceEnergy, size, worst) = (0, 0, 0, 0);
        AddPower(time, 0, h);
        for (var i = 1; i < method.Stages; i++)
        {
            stageTime[i] = time + method.Nodes[i] * h;
            system.Excite(stageTime[i], excitation);
            StartCharge.CopyTo(target, 0);
            var row = method.A[i];
            for (var j = 0; j < i; j++)
            {
                AddScaled(target, -h * row[j], slope[j]);
            }

            stageTime[0] = time;
            Predict(i);
            if (!newton.Solve(true, a, target, excitation, weight, NewtonShare, IterationLimit))
            {
                worst = newton.SingularUnknown != 0 ? newton.SingularUnknown : newton.WorstUnknown;
                return false;
            }

            l.X.CopyTo(Values[i], 0);
            var f = slope[i];
            for (var k = 1; k <= n; k++)
            {
                f[k] = (target[k] - l.Q[k]) / a;
            }

            AddPower(stageTime[i], i, h);
        }

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

        newton.Invalidate();
        lastWasEuler = true;
        l.X.CopyTo(Values[^1], 0);
        var f = slope[^1];
        for (var k = 1; k < f.Length; k++)
        {
            f[k] = (StartCharge[k] - l.Q[k]) / h;
        }

        var (absorbed, delivered) = Power(Values[^1], f);
        (AbsorbedEnergy, SourceEnergy) = (h * absorbed, h * delivered);
        beforeCount = 0;
        return true;
    }

    /// <summary>Evaluates the equations afresh at the step's end, where only Newton's last linearisation has been so far.</summary>
    /// <param name="coefficient">gamma h of the step, or h of an Euler step.</param>
    /// <returns>Largest current in amperes that is left over at a node.</returns>
    public double MeasureResidual(double coefficient)
    {
        var l = system.Loads;
        var rhs = lastWasEuler ? StartCharge : target;
        Values[^1].CopyTo(l.X, 0);
        l.Limiting = false;
        system.Evaluate(excitation);
        var worst = 0.0;
        for (var k = 1; k < rhs.Length; k++)
        {
            if (system.PowerSign[k] > 0)
            {
                worst = Math.Max(worst, Math.Abs(l.Q[k] - rhs[k] + coefficient * l.F[k]));
            }
        }

        l.Q.CopyTo(EndCharge, 0);
        return worst / coefficient;
    }

    /// <summary>Takes the step's end as the start of the next one.</summary>
    /// <param name="smooth">True when the solution goes on without a break, so that the stages help to predict.</param>
    public void Advance(bool smooth)
    {
        beforeCount = 0;
        if (smooth)
        {
            for (var i = 0; i < method.Stages - 1; i++)
            {
                (before[i], Values[i]) = (Values[i], before[i]);
                beforeTime[i] = stageTime[i];
            }

            beforeCount = method.Stages - 1;
        }

        (Values[0], Values[^1]) = (Values[^1], Values[0]);
        (slope[0], slope[^1]) = (slope[^1], slope[0]);
        EndCharge.CopyTo(StartCharge, 0);
    }

    /// <summary>Value of all unknowns inside the last step, by the polynomial through its stages.</summary>
    /// <param name="theta">Position in the step, 0..1.</param>
    /// <param name="x">Receives the unknowns.</param>
    public void Interpolate(double theta, Span<double> x)
    {
        x.Clear();
        var points = method.Interpolation;
        foreach (var p in points)
        {
            var w = 1.0;
            foreach (var q in points)
            {
                if (q != p)
                {
                    w *= (theta - method.Nodes[q]) / (method.Nodes[p] - method.Nodes[q]);
                }
            }

            var v = Values[p];
            for (var k = 1; k < v.Length; k++)
            {
                x[k] += w * v[k];
            }
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

    private static void AddScaled(double[] target, double factor, double[] vector)
    {
        if (factor != 0)
        {
            for (var k = 1; k < target.Length; k++)
            {
                target[k] += factor * vector[k];
            }
        }
    }

    /// <summary>Guesses a stage by the polynomial through the nearest known values, of this step and the one before.</summary>
    private void Predict(int stage)
    {
        var count = ChoosePoints(stage);
        var x = system.Loads.X;
        Array.Clear(x);
        for (var p = 0; p < count; p++)
        {
            var w = 1.0;
            for (var q = 0; q < count; q++)
            {
                if (q != p)
                {
                    w *= (stageTime[stage] - TimeOf(predictorPoint[q])) / (TimeOf(predictorPoint[p]) - TimeOf(predictorPoint[q]));
                }
            }

            AddScaled(x, w, predictorPoint[p] >= 0 ? Values[predictorPoint[p]] : before[-1 - predictorPoint[p]]);
        }

        double TimeOf(int point) => point >= 0 ? stageTime[point] : beforeTime[-1 - point];
    }

    /// <summary>Chooses up to four known points near the stage; points before the step count as negative numbers.</summary>
    private int ChoosePoints(int stage)
    {
        var count = 0;
        for (var i = stage - 1; i >= 0 && count < MaxPredictorPoints; i--)
        {
            predictorPoint[count++] = i;
        }

        for (var i = beforeCount - 1; i >= 0 && count < 3; i--)
        {
            predictorPoint[count++] = -1 - i;
        }

        return count;
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
            if (!(s <= size))
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
        var sign = system.PowerSign;
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
