namespace BoardSim.Measurement;

/// <summary>
/// Philox4x32 with ten rounds: 128 bits of counter and 64 bits of key in, 128 random bits out, and no state. What case a number
/// belongs to goes into the counter, so it is the same whatever else was drawn before, on whichever thread. (Salmon, Moraes, Dror and Shaw,
/// "Parallel random numbers: as easy as 1, 2, 3", SC'11, section 3.3.)
/// </summary>
internal static class Philox
{
    private const int Rounds = 10;
    private const uint FirstMultiplier = 0xD2511F53;
    private const uint SecondMultiplier = 0xCD9E8D57;
    private const uint FirstWeyl = 0x9E3779B9;
    private const uint SecondWeyl = 0xBB67AE85;

    /// <summary>The four words that belong to a counter of four words and a key of two, each least significant word first.</summary>
    public static (uint W0, uint W1, uint W2, uint W3) Block(uint c0, uint c1, uint c2, uint c3, uint k0, uint k1)
    {
        for (var round = 0; round < Rounds; round++)
        {
            var first = (ulong)FirstMultiplier * c0;
            var second = (ulong)SecondMultiplier * c2;
            (c0, c1, c2, c3) = ((uint)(second >> 32) ^ c1 ^ k0, (uint)second, (uint)(first >> 32) ^ c3 ^ k1, (uint)first);
            unchecked
            {
                k0 += FirstWeyl;
                k1 += SecondWeyl;
            }
        }

        return (c0, c1, c2, c3);
    }
}
