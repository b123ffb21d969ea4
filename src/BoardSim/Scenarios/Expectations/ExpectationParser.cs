using System.Text.RegularExpressions;

namespace BoardSim.Scenarios.Expectations;

/// <summary>
/// Takes the text of an expectation apart:
/// <code>
/// ripple of aged &gt; 5 V
/// ripple of aged / ripple of healthy &gt;= 3
/// bulk-dc of healthy - bulk-dc of aged &lt; 20 V
/// bulk-dc of healthy = 165 V within 3 %
/// bulk-dc of healthy between 155 V and 172 V
/// pull-in of sagging has no value
/// ripple of aged at 2 ohm &gt; 4 V            (a point of the sweep)
/// ripple of aged rises over the sweep
/// p99 of ripple of aged &lt; 5 V              (a statistic of the tolerance run)
/// ripple of aged &lt; 5 V in 99 % of boards   (its yield)
/// </code>
/// </summary>
internal static partial class ExpectationParser
{
    /// <summary>What an expectation may look like, for messages.</summary>
    public const string Shape =
        "write METRIC of CONDITION, then < <= > >= and a value, or = VALUE within TOLERANCE, or between A and B, or rises / falls over the sweep, or has a value / has no value; "
        + "two operands may be joined by / or by - between blanks; before METRIC may stand a statistic of the tolerance run and \"of\" ("
        + Statistic.Words + "), or at the end \"in 99 % of boards\"";

    /// <summary>Takes a text apart.</summary>
    /// <param name="text">The text.</param>
    /// <param name="wrong">The piece that is wrong; null when the whole is.</param>
    /// <param name="problem">What is wrong with it; empty when nothing is.</param>
    /// <returns>The parts, or null.</returns>
    public static ParsedExpectation? Parse(string text, out Piece? wrong, out string problem)
    {
        (wrong, problem) = (null, "");
        if (Relation().Match(text) is not { Success: true } relation)
        {
            problem = "nothing is compared here";
            return null;
        }

        var left = Trimmed(text, 0, relation.Index);
        var boards = OfBoards().Match(text, relation.Index);
        var right = Trimmed(text, relation.Index + relation.Length, boards.Success ? boards.Index : text.Length);
        var parts = Left(left, out wrong);
        if (parts is null)
        {
            problem = "this is not METRIC of CONDITION";
            return null;
        }

        var share = boards.Groups["share"];
        return Finish(
            boards.Success ? parts with { Share = new Piece(share.Value, share.Index) } : parts, relation.Groups["sign"].Value, right, out wrong, out problem);
    }

    private static ParsedExpectation? Left(Piece left, out Piece? wrong)
    {
        wrong = null;
        var joint = Joint().Match(left.Text);
        var first = joint.Success ? Trimmed(left.Text, 0, joint.Index, left.Offset) : left;
        var operand = Operand(first);
        if (operand is null)
        {
            wrong = first;
            return null;
        }

        if (!joint.Success)
        {
            return new ParsedExpectation { Left = operand };
        }

        var rest = Trimmed(left.Text, joint.Index + joint.Length, left.Text.Length, left.Offset);
        var second = Operand(rest);
        if (second is null)
        {
            wrong = rest;
            return null;
        }

        var combination = joint.Value.Contains('/', StringComparison.Ordinal) ? Combination.Ratio : Combination.Difference;
        return new ParsedExpectation { Left = operand, Combination = combination, Second = second };
    }

    private static ParsedExpectation? Finish(ParsedExpectation parts, string sign, Piece right, out Piece? wrong, out string problem)
    {
        (wrong, problem) = (right, "");
        switch (sign)
        {
            case "rises" or "falls":
                if (!OverTheSweep().IsMatch(right.Text))
                {
                    problem = $"after \"{sign}\" comes \"over the sweep\"";
                    return null;
                }

                if (parts.Second is not null || parts.Left.AtText is not null)
                {
                    (wrong, problem) = (null, $"only one metric of one condition {sign} over the sweep");
                    return null;
                }

                return parts with { Comparison = sign == "rises" ? Comparison.Rises : Comparison.Falls };
            case "has":
                if (!Value().IsMatch(right.Text))
                {
                    problem = "after \"has\" comes \"a value\" or \"no value\"";
                    return null;
                }

                return parts with { Comparison = right.Text.StartsWith("no", StringComparison.Ordinal) ? Comparison.HasNoValue : Comparison.HasValue };
            case "between":
                return Split(right, And()) is { } bounds
                    ? parts with { Comparison = Comparison.Between, Quantity = bounds.First, Extra = bounds.Second }
                    : Missing("after \"between\" come two values with \"and\" between them", out problem);
            case "=":
                return Split(right, Within()) is { } equal
                    ? RightSide(parts with { Comparison = Comparison.Within, Extra = equal.Second }, equal.First)
                    : Missing("computed values are never exactly equal; say = VALUE within TOLERANCE, such as = 12 V within 2 %", out problem);
            default:
                if (right.Text.Length == 0)
                {
                    problem = $"nothing stands behind {sign}";
                    return null;
                }

                var comparison = sign switch
                {
                    "<" => Comparison.Less,
                    "<=" => Comparison.LessOrEqual,
                    ">" => Comparison.Greater,
                    _ => Comparison.GreaterOrEqual,
                };
                return RightSide(parts with { Comparison = comparison }, right);
        }
    }

    private static ParsedExpectation RightSide(ParsedExpectation parts, Piece piece) =>
        Operand(piece) is { } operand ? parts with { Right = operand } : parts with { Quantity = piece };

    private static ParsedExpectation? Missing(string what, out string problem)
    {
        problem = what;
        return null;
    }

    private static Operand? Operand(Piece piece)
    {
        var match = OperandShape().Match(piece.Text);
        if (!match.Success)
        {
            return null;
        }

        var (at, statistic) = (match.Groups["at"], match.Groups["statistic"]);
        return new Operand(
            match.Groups["name"].Value, match.Groups["condition"].Value, at.Success ? at.Value : null, statistic.Success ? statistic.Value : null, piece.Offset)
        {
            NameOffset = piece.Offset + match.Groups["name"].Index,
            ConditionOffset = piece.Offset + match.Groups["condition"].Index,
            AtOffset = piece.Offset + at.Index,
        };
    }

    private static (Piece First, Piece Second)? Split(Piece piece, Regex separator)
    {
        var match = separator.Match(piece.Text);
        if (!match.Success)
        {
            return null;
        }

        var first = Trimmed(piece.Text, 0, match.Index, piece.Offset);
        var second = Trimmed(piece.Text, match.Index + match.Length, piece.Text.Length, piece.Offset);
        return first.Text.Length == 0 || second.Text.Length == 0 ? null : (first, second);
    }

    private static Piece Trimmed(string text, int start, int end, int offset = 0)
    {
        while (start < end && char.IsWhiteSpace(text[start]))
        {
            start++;
        }

        while (end > start && char.IsWhiteSpace(text[end - 1]))
        {
            end--;
        }

        return new Piece(text[start..end], offset + start);
    }

    [GeneratedRegex(@"(?<sign><=|>=|<|>|=)|(?<=\s)(?<sign>between|rises|falls|has)(?=\s|$)", RegexOptions.ExplicitCapture)]
    private static partial Regex Relation();

    [GeneratedRegex(@"\s+[/-]\s+", RegexOptions.ExplicitCapture)]
    private static partial Regex Joint();

    [GeneratedRegex(@"^((?<statistic>" + Statistic.Pattern + @")\s+of\s+)?(?<name>[a-z0-9-]+)\s+of\s+(?<condition>[a-z0-9-]+)(\s+at\s+(?<at>\S.*))?$", RegexOptions.ExplicitCapture)]
    private static partial Regex OperandShape();

    [GeneratedRegex(@"\s+in\s+(?<share>\S.*?)\s+of\s+boards\s*$", RegexOptions.ExplicitCapture)]
    private static partial Regex OfBoards();

    [GeneratedRegex(@"^over\s+the\s+sweep$", RegexOptions.ExplicitCapture)]
    private static partial Regex OverTheSweep();

    [GeneratedRegex(@"^(a|no)\s+value$", RegexOptions.ExplicitCapture)]
    private static partial Regex Value();

    [GeneratedRegex(@"\s+and\s+", RegexOptions.ExplicitCapture)]
    private static partial Regex And();

    [GeneratedRegex(@"\s+within\s+", RegexOptions.ExplicitCapture)]
    private static partial Regex Within();
}
