using BoardSim.Scenarios.Expectations;

namespace BoardSim.Tests.Scenarios;

public class ExpectationParserTests
{
    [Fact]
    public void A_metric_is_compared_with_a_value()
    {
        var parsed = ExpectationParser.Parse("ripple of aged >= 5 V", out _, out _)!;

        Assert.Equal(("ripple", "aged"), (parsed.Left.Name, parsed.Left.Condition));
        Assert.Equal(Comparison.GreaterOrEqual, parsed.Comparison);
        Assert.Equal(new Piece("5 V", 18), parsed.Quantity);
    }

    [Theory]
    [InlineData("ripple of aged / ripple of healthy > 3", (int)Combination.Ratio)]
    [InlineData("ripple of aged - ripple of healthy > 3 V", (int)Combination.Difference)]
    public void Two_operands_are_joined(string text, int combination)
    {
        var parsed = ExpectationParser.Parse(text, out _, out _)!;

        Assert.Equal((Combination)combination, parsed.Combination);
        Assert.Equal("healthy", parsed.Second!.Condition);
        Assert.Equal(Comparison.Greater, parsed.Comparison);
    }

    [Theory]
    [InlineData("p99 of ripple of aged < 5 V", "p99", "ripple", 7)]
    [InlineData("p99.9  of ripple of aged < 5 V", "p99.9", "ripple", 10)]
    [InlineData("standard-deviation of mean of aged < 5 V", "standard-deviation", "mean", 22)]
    [InlineData("mean of aged < 5 V", null, "mean", 0)]
    public void A_statistic_stands_before_the_metric(string text, string? statistic, string name, int offset)
    {
        var left = ExpectationParser.Parse(text, out _, out _)!.Left;

        Assert.Equal((statistic, name, "aged", offset), (left.Statistic, left.Name, left.Condition, left.NameOffset));
    }

    [Fact]
    public void A_share_of_the_boards_stands_behind_everything()
    {
        var parsed = ExpectationParser.Parse("ripple of aged between 1 V and 5 V in 99.5 % of boards", out _, out _)!;

        Assert.Equal(new Piece("99.5 %", 38), parsed.Share);
        Assert.Equal(("1 V", "5 V"), (parsed.Quantity!.Text, parsed.Extra!.Text));
        Assert.Null(ExpectationParser.Parse("ripple of aged < 5 V", out _, out _)!.Share);
    }

    [Fact]
    public void Names_with_hyphens_are_no_differences()
    {
        var parsed = ExpectationParser.Parse("bulk-dc of worn-out < bulk-dc of healthy", out _, out _)!;

        Assert.Equal(Combination.None, parsed.Combination);
        Assert.Equal("worn-out", parsed.Left.Condition);
        Assert.Equal("healthy", parsed.Right!.Condition);
    }

    [Fact]
    public void Equality_has_a_tolerance()
    {
        var parsed = ExpectationParser.Parse("dc of healthy = 165 V within 3 %", out _, out _)!;

        Assert.Equal(Comparison.Within, parsed.Comparison);
        Assert.Equal("165 V", parsed.Quantity!.Text);
        Assert.Equal("3 %", parsed.Extra!.Text);
    }

    [Fact]
    public void A_range_has_two_bounds()
    {
        var parsed = ExpectationParser.Parse("dc of healthy between 155 V and 172 V", out _, out _)!;

        Assert.Equal(Comparison.Between, parsed.Comparison);
        Assert.Equal(("155 V", "172 V"), (parsed.Quantity!.Text, parsed.Extra!.Text));
    }

    [Theory]
    [InlineData("ripple of aged rises over the sweep", (int)Comparison.Rises)]
    [InlineData("ripple of aged falls over the sweep", (int)Comparison.Falls)]
    [InlineData("pull-in of sagging has no value", (int)Comparison.HasNoValue)]
    [InlineData("pull-in of healthy has a value", (int)Comparison.HasValue)]
    public void Words_compare_as_well(string text, int comparison) =>
        Assert.Equal((Comparison)comparison, ExpectationParser.Parse(text, out _, out _)!.Comparison);

    [Fact]
    public void A_point_of_the_sweep_can_be_named()
    {
        var parsed = ExpectationParser.Parse("ripple of aged at 2.5 ohm / ripple of healthy at 10 mohm > 3", out _, out _)!;

        Assert.Equal(("2.5 ohm", 18), (parsed.Left.AtText, parsed.Left.AtOffset));
        Assert.Equal("10 mohm", parsed.Second!.AtText);
    }

    [Theory]
    [InlineData("ripple of aged", "nothing is compared")]
    [InlineData("ripple aged > 5 V", "not METRIC of CONDITION")]
    [InlineData("ripple of aged >", "nothing stands behind")]
    [InlineData("ripple of aged = 5 V", "never exactly equal")]
    [InlineData("ripple of aged between 5 V", "two values")]
    [InlineData("ripple of aged rises", "over the sweep")]
    [InlineData("ripple of aged has value", "a value")]
    [InlineData("ripple of aged / 3 > 5", "not METRIC of CONDITION")]
    public void What_is_not_understood_is_told(string text, string reason)
    {
        Assert.Null(ExpectationParser.Parse(text, out _, out var problem));
        Assert.Contains(reason, problem, StringComparison.Ordinal);
    }
}
