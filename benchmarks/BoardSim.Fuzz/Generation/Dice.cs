namespace BoardSim.Fuzz.Generation;

/// <summary>Chance with a seed: the same seed gives the same text on every machine.</summary>
internal sealed class Dice(int seed)
{
    private readonly Random random = new(seed);

    /// <summary>A number from 0 to below the limit.</summary>
    public int Next(int limit) => random.Next(limit);

    /// <summary>A number from the first to the second, both included.</summary>
    public int Between(int least, int most) => random.Next(least, most + 1);

    /// <summary>True once in so many times.</summary>
    public bool OneIn(int times) => random.Next(times) == 0;

    public double Share() => random.NextDouble();

    public T Of<T>(params IReadOnlyList<T> items) => items[random.Next(items.Count)];

    /// <summary>A value spread evenly over so many decades.</summary>
    public double Decades(double least, double most) => least * Math.Pow(most / least, random.NextDouble());
}
