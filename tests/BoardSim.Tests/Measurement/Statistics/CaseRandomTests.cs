using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement.Statistics;

/// <summary>Random numbers by address, and the statistics of what is drawn. A mean over n draws strays from the expected value by sigma/sqrt(n); five of
/// these are taken as the bound, which one correct generator in two million would miss; the seed being fixed, it is met or missed for good.</summary>
public class CaseRandomTests
{
    private const int Draws = 100_000;
    private const double Bound = 5;

    // Known answers for philox4x32 with 10 rounds: Random123 1.14.0, tests/kat_vectors. Counter words, key words, output words.
    [Theory]
    [InlineData(0u, 0u, 0u, 0u, 0u, 0u, 0x6627e8d5u, 0xe169c58du, 0xbc57ac4cu, 0x9b00dbd8u)]
    [InlineData(0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu, 0x408f276du, 0x41c83b0eu, 0xa20bc7c6u, 0x6d5451fdu)]
    [InlineData(0x243f6a88u, 0x85a308d3u, 0x13198a2eu, 0x03707344u, 0xa4093822u, 0x299f31d0u, 0xd16cfe09u, 0x94fdccebu, 0x5001e420u, 0x24126ea1u)]
    public void The_generator_gives_the_published_answers(
        uint c0, uint c1, uint c2, uint c3, uint k0, uint k1, uint w0, uint w1, uint w2, uint w3) =>
        Assert.Equal((w0, w1, w2, w3), Philox.Block(c0, c1, c2, c3, k0, k1));

    // Moments of the uniform distribution on (0, 1): mean 1/2, variance 1/12; variance of the sample variance (mu4 - sigma^4)/n with mu4 = 1/80
    // (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.1 and table 26.1, from memory).
    [Fact]
    public void Uniform_numbers_have_the_moments_of_the_uniform_distribution()
    {
        var draws = Enumerable.Range(0, Draws).Select(k => CaseRandom.Uniform(1, "divider.resistance", k)).ToArray();

        Assert.All(draws, u => Assert.True(u is > 0 and < 1));
        Assert.Equal(0.5, draws.Average(), Bound * Math.Sqrt(1 / 12.0 / Draws));
        Assert.Equal(1 / 12.0, Variance(draws), Bound * Math.Sqrt((1 / 80.0 - 1 / 144.0) / Draws));
    }

    // Variance of a standard normal cut off at +-a: 1 - 2 a phi(a) / (2 Phi(a) - 1) (Johnson, Kotz and Balakrishnan, Continuous Univariate
    // Distributions 1, 2nd ed., section 10.1, from memory): 0.973337 at a = 3, with phi(3) = 0.00443185 and Phi(3) = 0.99865010 (Abramowitz and Stegun,
    // table 26.1). Here in units of the tolerance, a third of the deviation.
    [Fact]
    public void Normal_deviations_are_cut_off_at_the_tolerance()
    {
        var draws = Enumerable.Range(0, Draws).Select(k => CaseRandom.Deviation(Scatter.Normal, 1, "coil.resistance", k)).ToArray();

        Assert.All(draws, d => Assert.InRange(d, -1, 1));
        var sigma = Math.Sqrt(0.973337) / 3;
        Assert.Equal(0, draws.Average(), Bound * sigma / Math.Sqrt(Draws));

        // For a variance near the normal one, mu4 is at most 3 sigma^4, so its estimate strays by sqrt(2/n) of itself at most.
        Assert.Equal(sigma * sigma, Variance(draws), Bound * sigma * sigma * Math.Sqrt(2.0 / Draws));

        // 68.27 % of a normal distribution lie within one deviation, 0.6827/0.9973 of the cut one (Abramowitz and Stegun, table 26.1).
        var within = draws.Count(d => Math.Abs(d) < 1 / 3.0) / (double)Draws;
        Assert.Equal(0.682689 / 0.997300, within, Bound * Math.Sqrt(0.6845 * 0.3155 / Draws));
    }

    // Independent numbers have no correlation; the coefficient of n pairs strays from zero by 1/sqrt(n).
    [Theory]
    [InlineData(1, "a", 1, "b", 0)]
    [InlineData(1, "a", 2, "a", 0)]
    [InlineData(1, "a", 1, "a", 1)]
    public void Names_seeds_and_neighbours_have_nothing_to_do_with_each_other(int seed, string name, int otherSeed, string otherName, int shift)
    {
        var first = Enumerable.Range(0, Draws).Select(k => CaseRandom.Uniform(seed, name, k) - 0.5).ToArray();
        var second = Enumerable.Range(shift, Draws).Select(k => CaseRandom.Uniform(otherSeed, otherName, k) - 0.5).ToArray();

        Assert.Equal(0, 12 * first.Zip(second, (a, b) => a * b).Average(), Bound / Math.Sqrt(Draws));
    }

    private static double Variance(double[] values)
    {
        var mean = values.Average();
        return values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1);
    }
}
