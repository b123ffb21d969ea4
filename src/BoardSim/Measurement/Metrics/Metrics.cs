namespace BoardSim.Measurement;

/// <summary>The metrics there are.</summary>
public static class Metrics
{
    /// <summary>All metrics, grouped by what they are about.</summary>
    public static IReadOnlyList<Metric> All { get; } =
    [
        .. AmplitudeMetrics.All, .. CurrentMetrics.All, .. PowerMetrics.All, .. HarmonicMetrics.All, .. HarmonicLimits.All, .. AudibleMetrics.All,
        .. TransitionMetrics.All, .. PeriodMetrics.All, .. TimingMetrics.All, .. TemperatureMetrics.All, .. AgeingMetrics.All, .. ResponseMetrics.All,
    ];

    /// <summary>The metric of that name, or null.</summary>
    /// <param name="id">Case-sensitive.</param>
    public static Metric? Find(string id) => All.FirstOrDefault(metric => metric.Id == id);

    /// <summary>The metric of that name.</summary>
    /// <param name="id">Case-sensitive.</param>
    /// <exception cref="KeyNotFoundException">There is none; the message lists those there are.</exception>
    public static Metric Get(string id) =>
        Find(id) ?? throw new KeyNotFoundException($"There is no metric {id}; there are {string.Join(", ", All.Select(metric => metric.Id))}.");
}
