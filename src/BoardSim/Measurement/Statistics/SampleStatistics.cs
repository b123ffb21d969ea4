using MathNet.Numerics.Statistics;

namespace BoardSim.Measurement;

/// <summary>What a sample of numbers tells about where they come from. Numbers that are not finite are left out and counted.</summary>
public sealed class SampleStatistics
{
    private readonly double[] sorted;

    /// <summary>Takes a sample.</summary>
    /// <param name="values">The numbers; NaN where there is none.</param>
    public SampleStatistics(IEnumerable<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        double[] all = [.. values];
        sorted = [.. all.Where(double.IsFinite)];
        Missing = all.Length - sorted.Length;

        // Sums in the order of the cases, so that they round alike in every run; then sorted for good.
        Mean = ArrayStatistics.Mean(sorted);
        StandardDeviation = ArrayStatistics.StandardDeviation(sorted);
        Array.Sort(sorted);
    }

    /// <summary>How many numbers there are.</summary>
    public int Count => sorted.Length;

    /// <summary>How many were left out.</summary>
    public int Missing { get; }

    /// <summary>Arithmetic mean; NaN for an empty sample.</summary>
    public double Mean { get; }

    /// <summary>Standard deviation, from the sum of squares over one less than the count; NaN for fewer than two numbers.</summary>
    public double StandardDeviation { get; }

    /// <summary>Smallest number; NaN for an empty sample.</summary>
    public double Minimum => sorted.Length > 0 ? sorted[0] : double.NaN;

    /// <summary>Largest number; NaN for an empty sample.</summary>
    public double Maximum => sorted.Length > 0 ? sorted[^1] : double.NaN;

    /// <summary>Quantile by definition 7 of Hyndman and Fan (The American Statistician 50 (1996) 361): a straight line between the order
    /// statistics, the k-th of n at (k - 1)/(n - 1). NaN for an empty sample.</summary>
    /// <param name="share">Share of the sample below it, 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The share lies outside 0 to 1.</exception>
    public double Quantile(double share)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(share, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(share, 1);
        return SortedArrayStatistics.QuantileCustom(sorted, share, QuantileDefinition.R7);
    }
}
