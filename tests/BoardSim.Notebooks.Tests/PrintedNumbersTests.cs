namespace BoardSim.Notebooks.Tests;

/// <summary>What counts as the same output: a last digit that rounding can tip, and no more.</summary>
public class PrintedNumbersTests
{
    [Theory]
    [InlineData("Ripple  12.78 V", "Ripple  12.78 V")]
    [InlineData("Ripple  12.78 V", "Ripple   12.79 V")]
    [InlineData("1.412e-16 A2s", "1.413e-16 A2s")]
    [InlineData("a\n---\nfigure: x.png\nb 1", "a\n-----\nb 1")]
    public void Same(string printed, string rendered) => Assert.Null(PrintedNumbers.Difference(printed, rendered));

    [Theory]
    [InlineData("Ripple  12.78 V", "Ripple  12.80 V")]
    [InlineData("Ripple  12.78 V", "Ripple  12.78 mV")]
    [InlineData("12 points", "13 points")]
    [InlineData("Ripple  -1.500 V", "Ripple  1.500 V")]
    [InlineData("a 1\nb 2", "a 1")]
    public void Different(string printed, string rendered) => Assert.NotNull(PrintedNumbers.Difference(printed, rendered));
}
