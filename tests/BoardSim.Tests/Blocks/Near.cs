namespace BoardSim.Tests.Blocks;

/// <summary>Assertions with the tolerance in words that tests use.</summary>
internal static class Near
{
    /// <summary>Fails unless the value lies within a share of what is expected.</summary>
    public static void Relative(double expected, double actual, double share) =>
        Assert.InRange(actual, expected - Math.Abs(expected) * share, expected + Math.Abs(expected) * share);

    /// <summary>Fails unless the value lies within an amount of what is expected.</summary>
    public static void Absolute(double expected, double actual, double amount) =>
        Assert.InRange(actual, expected - amount, expected + amount);
}
