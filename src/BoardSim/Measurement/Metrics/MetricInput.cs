using BoardSim.Ageing;

namespace BoardSim.Measurement;

/// <summary>What a metric is computed from.</summary>
public sealed record MetricInput
{
    /// <summary>The observed waveform, cut to the window.</summary>
    public required Waveform Wave { get; init; }

    /// <summary>A second waveform for metrics that relate two, cut to the same window; else null.</summary>
    public Waveform? Second { get; init; }

    /// <summary>Parameters in SI units, by key.</summary>
    public IReadOnlyDictionary<string, double> Parameters { get; init; } = new Dictionary<string, double>();

    /// <summary>Frequency of the mains in hertz; null when there is none.</summary>
    public double? LineFrequency { get; init; }

    /// <summary>Switching frequency in hertz; null when there is none.</summary>
    public double? SwitchingFrequency { get; init; }

    /// <summary>What a sensing block makes of a voltage in volts: the temperature it takes it for, in kelvin. Null when the board has no such block.</summary>
    public Func<double, MetricResult>? Indication { get; init; }

    /// <summary>What is known of the capacitor whose current is observed; null when it is another current.</summary>
    public ElectrolyticRating? Capacitor { get; init; }

    /// <summary>A parameter that has a value, once the metric has resolved it.</summary>
    /// <param name="key">Its key.</param>
    internal double this[string key] => Parameters[key];

    /// <summary>A parameter that may have no value.</summary>
    /// <param name="key">Its key.</param>
    internal double? Optional(string key) => Parameters.TryGetValue(key, out var value) ? value : null;
}
