using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement.Statistics;

public class SampleStatisticsTests
{
    // The whole numbers 1 to n: mean (n + 1)/2, variance n(n + 1)/12 over n - 1 (Knuth, The Art of Computer Programming 1, 1.2.10, from memory).
    [Fact]
    public void Whole_numbers_have_the_known_moments()
    {
        var statistics = new SampleStatistics([3, 1, double.NaN, 5, 2, 4]);

        Assert.Equal((5, 1), (statistics.Count, statistics.Missing));
        Assert.Equal(3, statistics.Mean, 14);
        Assert.Equal(Math.Sqrt(2.5), statistics.StandardDeviation, 14);
        Assert.Equal((1, 5), (statistics.Minimum, statistics.Maximum));
    }

    // Hyndman and Fan, The American Statistician 50 (1996) 361, definition 7: p(k) = (k - 1)/(n - 1), straight lines between. By hand for 10, 20, 30, 50:
    // p = 0, 1/3, 2/3, 1.
    [Theory]
    [InlineData(0, 10)]
    [InlineData(1 / 3.0, 20)]
    [InlineData(0.5, 25)]
    [InlineData(0.9, 44)]
    [InlineData(1, 50)]
    public void Quantiles_are_of_definition_seven(double share, double expected) =>
        Assert.Equal(expected, new SampleStatistics([30, 10, 50, 20]).Quantile(share), 12);

    [Fact]
    public void An_empty_sample_has_no_statistics()
    {
        var statistics = new SampleStatistics([double.NaN]);

        Assert.Equal(0, statistics.Count);
        Assert.All(
            new[] { statistics.Mean, statistics.StandardDeviation, statistics.Minimum, statistics.Maximum, statistics.Quantile(0.5) }, v => Assert.Equal(double.NaN, v));
    }
}
