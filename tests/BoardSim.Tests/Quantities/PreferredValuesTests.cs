using BoardSim.Quantities;

namespace BoardSim.Tests.Quantities;

public class PreferredValuesTests
{
    // IEC 60063:2015 (3rd edition), tables of E6, E12 and E24, and the start of E96.
    [Theory]
    [InlineData(PreferredSeries.E3, 1.0, 2.2, 4.7)]
    [InlineData(PreferredSeries.E6, 1.0, 1.5, 2.2, 3.3, 4.7, 6.8)]
    [InlineData(PreferredSeries.E12, 1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)]
    [InlineData(PreferredSeries.E24, 1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1)]
    public void Whole_decade_is_the_table(PreferredSeries series, params double[] table) =>
        Assert.Equal(table, PreferredValues.Decade(series));

    [Fact]
    public void E96_starts_as_tabled_and_every_second_value_is_E48()
    {
        var e96 = PreferredValues.Decade(PreferredSeries.E96);
        Assert.Equal(96, e96.Count);
        Assert.Equal([1.00, 1.02, 1.05, 1.07, 1.10, 1.13, 1.15, 1.18, 1.21], e96.Take(9));
        Assert.Equal(e96.Where((_, n) => n % 2 == 0), PreferredValues.Decade(PreferredSeries.E48));
    }

    // Values of the tables of IEC 60063:2015; the given value lies closest to the tabled one.
    [Theory]
    [InlineData(4800, PreferredSeries.E12, 4700)]
    [InlineData(9.7, PreferredSeries.E24, 10)]
    [InlineData(0.98, PreferredSeries.E24, 1.0)]
    [InlineData(4.5e-4, PreferredSeries.E6, 470e-6)]
    [InlineData(1234, PreferredSeries.E96, 1240)]
    public void Nearest_is_found_in_any_decade(double value, PreferredSeries series, double nearest)
    {
        Assert.Equal(nearest, PreferredValues.Nearest(value, series));
        Assert.True(PreferredValues.Contains(nearest, series));
        Assert.False(PreferredValues.Contains(value, series));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Only_positive_finite_values_have_a_neighbour(double value) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PreferredValues.Nearest(value, PreferredSeries.E24));

    // IEC 60062:2016: F is 1 %, K is 10 %.
    [Theory]
    [InlineData('F', 0.01)]
    [InlineData('K', 0.10)]
    public void Tolerance_letters(char letter, double fraction)
    {
        Assert.True(ToleranceLetter.TryGet(letter, out var found));
        Assert.Equal(fraction, found);
        Assert.False(ToleranceLetter.TryGet('?', out _));
    }
}
