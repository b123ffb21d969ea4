using BoardSim.Scenarios.Text;

namespace BoardSim.Tests.Scenarios;

public class NearestTests
{
    // kitten/sitting and saturday/sunday are the worked examples that textbooks use (from memory); ca/abc shows the swap of neighbours
    // being counted as one step only where nothing else is done to the pair (restricted distance: 3; from memory).
    [Theory]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("saturday", "sunday", 3)]
    [InlineData("ca", "abc", 3)]
    [InlineData("bulk.ers", "bulk.esr", 1)]
    [InlineData("", "abc", 3)]
    [InlineData("same", "same", 0)]
    public void Distance_counts_the_edits(string from, string to, int expected) =>
        Assert.Equal(expected, Nearest.Distance(from, to));

    [Theory]
    [InlineData("bulk.ers", "bulk.esr")]
    [InlineData("BULK.ESR", "bulk.esr")]
    [InlineData("load.resistence", "load.resistance")]
    public void A_slip_finds_the_name(string text, string expected) =>
        Assert.Equal(expected, Nearest.To(text, ["bulk.esr", "bulk.capacitance", "load.resistance"]));

    [Fact]
    public void What_is_far_from_everything_finds_nothing() =>
        Assert.Null(Nearest.To("thermometer", ["bulk.esr", "bulk.capacitance", "load.resistance"]));
}
