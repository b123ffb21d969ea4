namespace BoardSim.Campaign.Drawing;

/// <summary>
/// Random numbers that are a function of seed, case and place in the row, so that a case can be drawn without those before it.
/// The mixing function is that of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014; constants from memory).
/// </summary>
public sealed class CounterRandom(ulong seed, ulong index)
{
    private const ulong Golden = 0x9E3779B97F4A7C15;

    private readonly ulong key = Mix(Mix(seed + Golden) ^ (index * 0xD1B54A32D192ED03));
    private ulong place;

    /// <summary>A number from 0 to 1, 1 excluded.</summary>
    public double Next() => (Mix(key + ++place * Golden) >> 11) * (1.0 / (1UL << 53));

    /// <summary>True with that probability.</summary>
    public bool Chance(double probability) => Next() < probability;

    /// <summary>A number from 0 to <paramref name="count"/> - 1.</summary>
    public int Below(int count) => (int)(Next() * count);

    /// <summary>Any of a list.</summary>
    public T Any<T>(IReadOnlyList<T> list) => list[Below(list.Count)];

    /// <summary>A number between two others, each as likely as the next.</summary>
    public double Between(double low, double high) => low + (high - low) * Next();

    /// <summary>A number between two positive ones, each decade as likely as the next.</summary>
    public double AcrossDecades(double low, double high) => low * Math.Pow(high / low, Next());

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
