using MathNet.Numerics.Distributions;

namespace BoardSim.Measurement;

/// <summary>
/// Random numbers by address: seed, name and number of the case tell the draw, by <c>Philox4x32-10</c>. A name keeps its draws when
/// others come or go, a case keeps its draws when their count changes, and no order of computation shows.
/// </summary>
public static class CaseRandom
{
    /// <summary>Standard deviations at which the normal distribution of a tolerance is cut off: the tolerance itself.</summary>
    public const double Sigmas = 3;

    /// <summary>A number that is uniform between 0 and 1, both excluded, with 53 random bits.</summary>
    /// <param name="seed">Seed of the whole run.</param>
    /// <param name="name">What is drawn, such as the key of a value.</param>
    /// <param name="number">Number of the case, from 0.</param>
    public static double Uniform(int seed, string name, int number)
    {
        ArgumentNullException.ThrowIfNull(name);
        var stream = Fingerprint(name);
        var (high, low, _, _) = Philox.Block((uint)number, 0, (uint)stream, (uint)(stream >> 32), (uint)seed, 0);
        return (((ulong)(high >> 5) << 26) + (low >> 6) + 0.5) * (1.0 / (1L << 53));
    }

    /// <summary>The deviation of a part from its nominal value, as a share of its tolerance: between -1 and 1.</summary>
    /// <param name="distribution">How parts scatter.</param>
    /// <param name="seed">Seed of the whole run.</param>
    /// <param name="name">What is drawn, such as the key of a value.</param>
    /// <param name="number">Number of the case, from 0.</param>
    public static double Deviation(Scatter distribution, int seed, string name, int number)
    {
        var uniform = Uniform(seed, name, number);
        if (distribution == Scatter.Uniform)
        {
            return 2 * uniform - 1;
        }

        // The inverse of the distribution function, taken between the cut-offs only.
        var tail = Normal.CDF(0, 1, -Sigmas);
        return Normal.InvCDF(0, 1, tail + uniform * (1 - 2 * tail)) / Sigmas;
    }

    /// <summary>FNV-1a, 64 bits, over the UTF-16 units of a name (Fowler, Noll and Vo; constants as in IETF draft-eastlake-fnv, from memory):
    /// two names of one scenario meet with a probability of 1e-19.</summary>
    private static ulong Fingerprint(string name)
    {
        var hash = 0xCBF29CE484222325UL;
        foreach (var c in name)
        {
            hash = unchecked((hash ^ c) * 0x100000001B3UL);
        }

        return hash;
    }
}
