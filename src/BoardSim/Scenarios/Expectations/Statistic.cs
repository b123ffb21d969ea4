using System.Globalization;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Expectations;

/// <summary>The statistics of a tolerance run that an expectation can speak of.</summary>
internal static class Statistic
{
    /// <summary>The words, as a pattern.</summary>
    public const string Pattern = @"mean|median|minimum|maximum|standard-deviation|lowest-corner|highest-corner|p[0-9]{1,2}(\.[0-9]+)?";

    /// <summary>The words, for messages.</summary>
    public const string Words = "mean, median, minimum, maximum, standard-deviation, p99 (any percentile), lowest-corner, highest-corner";

    /// <summary>True for a statistic that needs the corners and no drawn boards.</summary>
    public static bool IsOfCorners(string word) => word.EndsWith("-corner", StringComparison.Ordinal);

    /// <summary>Unit of a statistic of numbers of a unit: a standard deviation is a difference.</summary>
    public static Unit UnitOf(string? word, Unit unit) => word == "standard-deviation" ? ExpectationUnits.OfDifference(unit) : unit;

    /// <summary>The statistic of a series, as a number before the symbol of its unit.</summary>
    public static double Of(string word, ToleranceSeries series)
    {
        var statistics = IsOfCorners(word) ? series.CornerStatistics() : series.Statistics();
        return word switch
        {
            "mean" => statistics.Mean,
            "median" => statistics.Quantile(0.5),
            "minimum" or "lowest-corner" => statistics.Minimum,
            "maximum" or "highest-corner" => statistics.Maximum,
            "standard-deviation" => statistics.StandardDeviation,
            _ => statistics.Quantile(double.Parse(word.AsSpan(1), CultureInfo.InvariantCulture) / 100),
        };
    }
}
