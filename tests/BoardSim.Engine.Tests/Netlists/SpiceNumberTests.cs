using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Berkeley SPICE3 Version 3f User's Manual, section 2.1 "General structure and conventions": number fields (from memory).</summary>
public class SpiceNumberTests
{
    // "1000, 1000.0, 1000Hz, 1e3, 1.0e3, 1KHz, and 1K all represent the same number."
    [Theory]
    [InlineData("1000")]
    [InlineData("1000.0")]
    [InlineData("1000Hz")]
    [InlineData("1e3")]
    [InlineData("1.0e3")]
    [InlineData("1KHz")]
    [InlineData("1K")]
    public void The_manuals_spellings_of_one_number_agree(string text) => Assert.Equal(1000, Read(text));

    // The manual's table of scale factors; MIL is 25.4e-6.
    [Theory]
    [InlineData("2T", 2e12)]
    [InlineData("2G", 2e9)]
    [InlineData("2Meg", 2e6)]
    [InlineData("2k", 2e3)]
    [InlineData("2m", 2e-3)]
    [InlineData("2M", 2e-3)]
    [InlineData("2u", 2e-6)]
    [InlineData("2n", 2e-9)]
    [InlineData("2p", 2e-12)]
    [InlineData("2f", 2e-15)]
    [InlineData("10V", 10)]
    [InlineData("10MSec", 10e-3)]
    [InlineData("10pF", 10e-12)]
    [InlineData("-.5e-1", -0.05)]
    [InlineData("+15u", 15e-6)]
    [InlineData("14.0625u", 14.0625e-6)]
    [InlineData("1.E-12", 1e-12)]
    [InlineData("3e", 3)]
    public void Scale_letters_apply_and_further_letters_do_not(string text, double expected) => Assert.Equal(expected, Read(text));

    [Fact]
    public void A_mil_is_a_thousandth_of_an_inch() => Assert.Equal(0.0254, Read("1000mil"), 15);

    [Theory]
    [InlineData("2k2", "2.2k")]
    [InlineData("10µF", "write u")]
    [InlineData("ten", "not a number")]
    [InlineData("-", "not a number")]
    [InlineData("1.2.3", "not a number")]
    [InlineData("1e999", "beyond")]
    public void What_is_no_number_is_refused_with_a_reason(string text, string reason)
    {
        Assert.False(SpiceNumber.TryParse(text, out _, out var error));
        Assert.Contains(reason, error);
    }

    [Theory]
    [InlineData(1.0 / 3)]
    [InlineData(6.02214076e23)]
    [InlineData(-4.9e-324)]
    public void A_written_number_is_read_back_to_the_same_bits(double value) => Assert.Equal(value, Read(SpiceNumber.Format(value)));

    private static double Read(string text)
    {
        Assert.True(SpiceNumber.TryParse(text, out var value, out var error), error);
        return value;
    }
}
