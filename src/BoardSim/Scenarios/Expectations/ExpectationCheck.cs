using BoardSim.Quantities;

namespace BoardSim.Scenarios.Expectations;

/// <summary>Compares what came out with what is expected.</summary>
internal sealed class ExpectationCheck
{
    /// <summary>990 of 1000 are 99 %, whatever becomes of either in binary.</summary>
    private const double Rounding = 1e-12;

    private readonly ExpectationSpec spec;
    private readonly IReadOnlyList<ConditionResult> conditions;
    private readonly SweepResult? sweep;
    private readonly ToleranceResult? tolerance;
    private readonly ParsedExpectation parsed;

    /// <summary>The drawn board that operands are taken from; null for the nominal one.</summary>
    private int? board;

    private ExpectationCheck(ExpectationSpec spec, IReadOnlyList<ConditionResult> conditions, SweepResult? sweep, ToleranceResult? tolerance)
    {
        (this.spec, this.conditions, this.sweep, this.tolerance) = (spec, conditions, sweep, tolerance);
        parsed = ExpectationParser.Parse(spec.Text, out _, out var problem)
            ?? throw new InvalidOperationException($"The expectation \"{spec.Text}\" cannot be read: {problem}.");
    }

    /// <summary>The result of an expectation.</summary>
    /// <exception cref="InvalidOperationException">The expectation names what is not there; the reader of scenario files does not let that through.</exception>
    public static ExpectationResult Evaluate(
        ExpectationSpec spec, IReadOnlyList<ConditionResult> conditions, SweepResult? sweep = null, ToleranceResult? tolerance = null) =>
        new ExpectationCheck(spec, conditions, sweep, tolerance).Evaluate();

    private ExpectationResult Evaluate()
    {
        var share = Yield();
        if (parsed.Share is not { } wanted)
        {
            return OfOne() with { Yield = share };
        }

        var (boards, yield) = (tolerance?.Samples ?? 0, share ?? throw Missing("tolerance run that records all of its numbers"));
        return Result(
            yield >= Quantity.Parse(wanted.Text, Unit.Percent) - Rounding, new Number(yield, Unit.Percent, ""),
            $"{Math.Round(yield * boards)} of {boards} boards") with
        { Yield = yield };
    }

    /// <summary>Share of the drawn boards that meet the expectation; null where it does not speak of them.</summary>
    private double? Yield()
    {
        var isOfBoards = tolerance is { Samples: > 0 }
            && parsed.Comparison is not (Comparison.Rises or Comparison.Falls)
            && parsed.Operands.All(o => o.AtText is null && o.Statistic is null && tolerance.Find(o.Condition, o.Name) is not null);
        if (!isOfBoards)
        {
            return null;
        }

        var good = 0;
        for (var k = 0; k < tolerance!.Samples; k++)
        {
            board = k;
            good += OfOne().Holds ? 1 : 0;
        }

        board = null;
        return (double)good / tolerance.Samples;
    }

    /// <summary>The expectation on one board.</summary>
    private ExpectationResult OfOne()
    {
        if (parsed.Comparison is Comparison.Rises or Comparison.Falls)
        {
            return OverTheSweep();
        }

        var left = Find(parsed.Left);
        var second = parsed.Second is { } operand ? Find(operand) : null;
        if (parsed.Comparison is Comparison.HasValue or Comparison.HasNoValue)
        {
            var has = !double.IsNaN(left.Value) && second is null or { Value: not double.NaN };
            return Result(has == (parsed.Comparison == Comparison.HasValue), left, has ? Show(left) : left.Remark);
        }

        var side = Join(left, second);
        return double.IsNaN(side.Value) ? Result(false, side, $"no value: {side.Remark}") : Compare(side);
    }

    private ExpectationResult Compare(Number side)
    {
        var right = parsed.Right is { } operand ? Find(operand) : null;
        if (right is not null && double.IsNaN(right.Value))
        {
            return Result(false, side, $"{Show(side)}, and nothing to compare it with: {right.Remark}");
        }

        var bound = right?.Value ?? Quantity.Parse(parsed.Quantity!.Text, side.Unit);
        var holds = parsed.Comparison switch
        {
            Comparison.Less => side.Value < bound,
            Comparison.LessOrEqual => side.Value <= bound,
            Comparison.Greater => side.Value > bound,
            Comparison.GreaterOrEqual => side.Value >= bound,
            Comparison.Between => side.Value >= bound && side.Value <= Quantity.Parse(parsed.Extra!.Text, side.Unit),
            _ => Math.Abs(side.Value - bound) <= Tolerance(side.Unit, bound),
        };
        return Result(holds, side, right is null ? Show(side) : $"{Show(side)} against {Show(right)}");
    }

    private double Tolerance(Unit unit, double expected) =>
        ExpectationUnits.TryTolerance(parsed.Extra!.Text, unit, out var tolerance, out var relative, out var problem)
            ? relative ? tolerance * Math.Abs(expected) : tolerance
            : throw new InvalidOperationException(problem);

    private ExpectationResult OverTheSweep()
    {
        var series = Series(parsed.Left);
        var unit = Unit.Find(series.Unit)!;
        var points = sweep!.X.Zip(series.Values, (x, y) => (X: x, Y: y)).OrderBy(p => p.X).ToList();
        var last = new Number(double.NaN, unit, "");
        foreach (var (x, y) in points)
        {
            var held = unit.Held(y);
            if (double.IsNaN(y))
            {
                return Result(false, last, $"no value at {Point(x)}");
            }

            var wrong = parsed.Comparison == Comparison.Rises ? held <= last.Value : held >= last.Value;
            if (wrong)
            {
                return Result(false, new Number(held, unit, ""), $"{Show(last)} is followed by {unit.Display(held)} at {Point(x)}");
            }

            last = new Number(held, unit, "");
        }

        return Result(true, last, $"{unit.Display(unit.Held(points[0].Y))} to {Show(last)}");
    }

    private string Point(double shown)
    {
        var unit = Unit.Find(sweep!.Unit)!;
        return Quantity.FormatShort(unit.Held(shown), unit);
    }

    private Number Join(Number left, Number? second)
    {
        if (second is null)
        {
            return left;
        }

        var unit = ExpectationUnits.OfLeft(left.Unit, parsed.Combination);
        if (parsed.Combination == Combination.Ratio && second.Value == 0)
        {
            return new Number(double.NaN, unit, "the second of the two is zero");
        }

        var value = parsed.Combination == Combination.Ratio ? left.Value / second.Value : left.Value - second.Value;
        return new Number(value, unit, double.IsNaN(left.Value) ? left.Remark : second.Remark);
    }

    private Number Find(Operand operand)
    {
        if (operand.AtText is { } at)
        {
            return FindAt(operand, at);
        }

        if (operand.Statistic is { } statistic)
        {
            var series = Scattered(operand);
            var one = Statistic.UnitOf(statistic, Unit.Find(series.Unit)!);
            return new Number(one.Held(Statistic.Of(statistic, series)), one, "none of the boards has one");
        }

        if (board is { } number)
        {
            var series = Scattered(operand);
            var one = Unit.Find(series.Unit)!;
            return new Number(one.Held(series.Values[number]), one, "");
        }

        var condition = conditions.FirstOrDefault(c => c.Name == operand.Condition) ?? throw Missing($"condition {operand.Condition}");
        if (condition.Metrics.FirstOrDefault(m => m.Name == operand.Name) is { } metric)
        {
            var unit = Unit.Find(metric.Unit)!;
            return new Number(unit.Held(metric.Value), unit, metric.Remark);
        }

        var reading = condition.Readings.FirstOrDefault(r => r.Name == operand.Name) ?? throw Missing($"metric or reading {operand.Name}");
        var of = Unit.Find(reading.Unit)!;
        return new Number(of.Held(reading.Value), of, $"the display shows {reading.Display}");
    }

    /// <summary>The value at a point of the sweep, on a straight line between its neighbours (over the logarithm where the points are spaced so).</summary>
    private Number FindAt(Operand operand, string at)
    {
        var series = Series(operand);
        var unit = Unit.Find(series.Unit)!;
        var swept = Unit.Find(sweep!.Unit)!;
        var x = Scale(swept.Shown(Quantity.Parse(at, swept)));
        var points = sweep.X.Zip(series.Values, (p, y) => (X: Scale(p), Y: y)).OrderBy(p => p.X).ToList();
        var after = points.FindIndex(p => p.X >= x - 1e-12 * Math.Max(1, Math.Abs(x)));
        if (after < 0)
        {
            throw Missing($"point {at} of the sweep");
        }

        var (right, left) = (points[after], points[Math.Max(0, after - 1)]);
        var share = right.X == left.X ? 1 : Math.Min(1, (x - left.X) / (right.X - left.X));
        var y = share == 1 ? right.Y : left.Y + (right.Y - left.Y) * share;
        return new Number(unit.Held(y), unit, $"there is none at {at}");
    }

    private double Scale(double x) => sweep!.Logarithmic ? Math.Log(x) : x;

    private SweepSeries Series(Operand operand) =>
        sweep?.Find(operand.Condition, operand.Name) ?? throw Missing($"sweep of {operand.Name} under {operand.Condition}");

    private ToleranceSeries Scattered(Operand operand) =>
        tolerance?.Find(operand.Condition, operand.Name) ?? throw Missing($"tolerance run of {operand.Name} under {operand.Condition}");

    private InvalidOperationException Missing(string what) => new($"The expectation \"{spec.Text}\" speaks of a {what} that is not there.");

    private ExpectationResult Result(bool holds, Number value, string found) => new()
    {
        Text = spec.Text,
        Why = spec.Why,
        Holds = holds,
        Value = value.Unit.Shown(value.Value),
        Unit = value.Unit.Symbol,
        Found = found,
    };

    private static string Show(Number number) => number.Unit.Display(number.Value);

    /// <summary>A value as its unit holds it; NaN with the reason when there is none.</summary>
    private sealed record Number(double Value, Unit Unit, string Remark);
}
