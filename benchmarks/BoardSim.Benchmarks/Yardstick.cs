namespace BoardSim.Benchmarks;

/// <summary>
/// A fixed piece of arithmetic, a million exponentials and divisions, that stands as the baseline of every table. Machines and
/// their moods differ; the ratio to the yardstick in the same run says how much of that was the machine.
/// </summary>
internal sealed class Yardstick
{
    /// <summary>Length of the work.</summary>
    public int Count { get; init; } = 1_000_000;

    /// <summary>Does the work.</summary>
    public double Measure()
    {
        var sum = 1.0;
        for (var k = 1; k <= Count; k++)
        {
            sum = Math.Exp(-sum) + (1.0 / k);
        }

        return sum;
    }
}
