using BoardSim.Quantities;
using BoardSim.Scenarios.Expectations;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the expectations and checks that all they name is there and that units go together.</summary>
internal static class ExpectationsReader
{
    public static IReadOnlyList<ExpectationSpec> Read(Section root, IReadOnlyList<string> conditions, SweepSpec? sweep, ToleranceSpec? tolerance, Outputs outputs)
    {
        var expectations = new List<ExpectationSpec>();
        foreach (var item in root.Has("expect") ? root.List("expect") : [])
        {
            if (Section.Open(item, ScenarioFormat.Expectation, root.Findings) is not { } section)
            {
                continue;
            }

            if (section.TextNode("that") is { } that)
            {
                new Checker(that, conditions, sweep, root.Has("sweep"), tolerance, root.Has("tolerance"), outputs, root.Findings).Check();
            }

            expectations.Add(new ExpectationSpec(section.Text("that") ?? "", section.Text("why") ?? ""));
        }

        return expectations;
    }

    private const int LongestExpectation = 400;

    private sealed class Checker(
        TextNode node, IReadOnlyList<string> conditions, SweepSpec? sweep, bool hasSweep, ToleranceSpec? tolerance, bool hasTolerance, Outputs outputs, Findings findings)
    {
        public void Check()
        {
            if (node.Text.Length > LongestExpectation)
            {
                findings.Add(node, $"\"{Findings.Quote(node.Text)}\" is too long for an expectation; {ExpectationParser.Shape}");
                return;
            }

            var parsed = ExpectationParser.Parse(node.Text, out var wrong, out var problem);
            if (parsed is null)
            {
                var quote = Findings.Quote(wrong?.Text is { Length: > 0 } piece ? piece : node.Text);
                findings.Add(At(wrong?.Offset ?? 0), quote, $"\"{quote}\": {problem}; {ExpectationParser.Shape}");
                return;
            }

            var operands = parsed.Operands.ToList();
            var known = true;
            foreach (var operand in operands)
            {
                known &= Known(operand);
            }

            if (parsed.Comparison is Comparison.Rises or Comparison.Falls)
            {
                known &= Recorded(parsed.Left);
            }

            if (parsed.Share is { } share)
            {
                known &= OfBoards(parsed, share);
            }

            if (known && operands.All(o => outputs.UnitOf(o.Name) is not null))
            {
                Units(parsed);
            }
        }

        private bool Known(Operand operand)
        {
            var name = Part(operand.Name, operand.NameOffset);
            var known = outputs.Check(name, findings);
            if (!conditions.Contains(operand.Condition))
            {
                findings.AddUnknown(Part(operand.Condition, operand.ConditionOffset), "condition of this scenario", conditions);
                known = false;
            }

            if (operand.Statistic is { } statistic)
            {
                if (operand.AtText is not null)
                {
                    findings.Add(At(operand.AtOffset), operand.AtText, "a statistic is one of the tolerance run, which has no points of a sweep");
                    return false;
                }

                return known && Scattered(operand, statistic);
            }

            return operand.AtText is null ? known : known && Recorded(operand) && AtPoint(operand);
        }

        /// <summary>The expectation speaks of a share of the boards.</summary>
        private bool OfBoards(ParsedExpectation parsed, Piece share)
        {
            if (QuantityText.Read(Part(share.Text, share.Offset), Unit.Percent, findings) is not { } part)
            {
                return false;
            }

            if (part is not (> 0 and <= 1))
            {
                findings.Add(Part(share.Text, share.Offset), $"\"{share.Text}\" of boards; it has to be more than 0 % and at most 100 %");
                return false;
            }

            if (parsed.Comparison is Comparison.Rises or Comparison.Falls || parsed.Operands.Any(o => o.AtText is not null || o.Statistic is not null))
            {
                findings.Add(At(share.Offset), share.Text, "a share of the boards goes with numbers that each board has, and not with a sweep or a statistic");
                return false;
            }

            return parsed.Operands.All(o => Scattered(o, null));
        }

        private bool Scattered(Operand operand, string? statistic)
        {
            if (tolerance is null)
            {
                // A tolerance run that could not be read has findings of its own.
                if (!hasTolerance)
                {
                    findings.Add(At(operand.Offset), operand.Name, $"\"{Findings.Quote(node.Text)}\" speaks of a tolerance run, and the scenario has none");
                }

                return false;
            }

            if (!tolerance.Conditions.Contains(operand.Condition))
            {
                findings.Add(Part(operand.Condition, operand.ConditionOffset), $"condition {operand.Condition} is not among those of the tolerance run: {string.Join(", ", tolerance.Conditions)}");
                return false;
            }

            if (!tolerance.Record.Contains(operand.Name))
            {
                findings.AddUnknown(Part(operand.Name, operand.NameOffset), "metric or reading that the tolerance run records", tolerance.Record);
                return false;
            }

            var corners = statistic is not null && Statistic.IsOfCorners(statistic);
            if (corners ? tolerance.Corners : tolerance.Samples > 0)
            {
                return true;
            }

            findings.Add(At(operand.Offset), statistic ?? operand.Name, corners ? "the tolerance run has no corners; give it corners: all" : "the tolerance run draws no boards; give it samples");
            return false;
        }

        private bool Recorded(Operand operand)
        {
            var (name, offset) = (operand.Name, operand.NameOffset);
            if (sweep is null)
            {
                // A sweep that could not be read has findings of its own.
                if (!hasSweep)
                {
                    findings.Add(At(offset), name, $"\"{Findings.Quote(node.Text)}\" speaks of a sweep, and the scenario has none");
                }

                return false;
            }

            if (conditions.Contains(operand.Condition) && !sweep.Conditions.Contains(operand.Condition))
            {
                findings.Add(Part(operand.Condition, operand.ConditionOffset), $"condition {operand.Condition} is not among those that are swept: {string.Join(", ", sweep.Conditions)}");
                return false;
            }

            if (sweep.Record.Contains(name))
            {
                return true;
            }

            findings.AddUnknown(Part(name, offset), "metric or reading that the sweep records", sweep.Record);
            return false;
        }

        private bool AtPoint(Operand operand)
        {
            if (QuantityText.Read(Part(operand.AtText!, operand.AtOffset), Unit.Find(sweep!.Unit)!, findings) is not { } at || sweep.Points.Count == 0)
            {
                return false;
            }

            var (low, high) = (sweep.Points.Min(), sweep.Points.Max());
            if (at >= low && at <= high)
            {
                return true;
            }

            findings.Add(Part(operand.AtText!, operand.AtOffset), $"{operand.AtText} lies outside the sweep, which goes over {QuantityText.Range(Unit.Find(sweep.Unit)!, low, high)}");
            return false;
        }

        private void Units(ParsedExpectation parsed)
        {
            var unit = UnitOf(parsed.Left);
            if (parsed.Second is { } second && !Same(unit, second))
            {
                return;
            }

            var side = ExpectationUnits.OfLeft(unit, parsed.Combination);
            if (parsed.Right is { } right)
            {
                if (parsed.Combination == Combination.None)
                {
                    Same(unit, right);
                }
                else
                {
                    findings.Add(At(right.Offset), right.Name, $"a {(parsed.Combination == Combination.Ratio ? "ratio" : "difference")} is compared with a value, such as {side.Example}, and not with another metric");
                }
            }

            if (parsed.Quantity is { } quantity)
            {
                QuantityText.Read(Part(quantity.Text, quantity.Offset), side, findings);
            }

            if (parsed.Extra is not { } extra)
            {
                return;
            }

            if (parsed.Comparison == Comparison.Between)
            {
                QuantityText.Read(Part(extra.Text, extra.Offset), side, findings);
            }
            else if (!ExpectationUnits.TryTolerance(extra.Text, side, out _, out _, out var problem))
            {
                findings.Add(Part(extra.Text, extra.Offset), problem.TrimEnd('.'));
            }
        }

        private Unit UnitOf(Operand operand) => Statistic.UnitOf(operand.Statistic, outputs.UnitOf(operand.Name)!);

        private bool Same(Unit unit, Operand other)
        {
            var second = UnitOf(other);
            if (second == unit)
            {
                return true;
            }

            findings.Add(At(other.Offset), other.Name, $"{other.Name} is a {second.Kind} and cannot be compared with a {unit.Kind}");
            return false;
        }

        private TextNode Part(string text, int offset) => new(At(offset), text, true);

        private Place At(int offset) => node.Text.Contains('\n', StringComparison.Ordinal)
            ? node.Place
            : node.Place with { Column = node.Place.Column + offset + (node.IsPlain ? 0 : 1) };
    }
}
