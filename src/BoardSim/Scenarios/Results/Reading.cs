namespace BoardSim.Scenarios;

/// <summary>What a meter shows.</summary>
public sealed record Reading
{
    /// <summary>Name of the observation.</summary>
    public required string Name { get; init; }

    /// <summary>What tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>Value as the number before the unit's symbol (a temperature in degC when the unit is degC), rounded to the counts of the display; NaN when the display shows no number (overload).</summary>
    public required double Value { get; init; }

    /// <summary>Unit.</summary>
    public required string Unit { get; init; }

    /// <summary>What the display shows, such as <c>161.2 V</c> or <c>OL</c>.</summary>
    public required string Display { get; init; }

    /// <summary>Half width of the interval that the instrument's specification warrants about the value, in its unit; 0 when there is no instrument.</summary>
    public double Uncertainty { get; init; }

    /// <summary>What the reader of the display should know, such as that the waveform is no sine; empty when there is nothing.</summary>
    public string Note { get; init; } = "";

    /// <summary>The observation, with point, reference and instrument.</summary>
    public required SignalInfo Signal { get; init; }
}

/// <summary>A number that was derived from waveforms.</summary>
public sealed record MetricValue
{
    /// <summary>Name of the metric in the scenario.</summary>
    public required string Name { get; init; }

    /// <summary>What tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>Id of the metric that was taken, such as <c>ripple-peak-to-peak</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Value as the number before the unit's symbol (a temperature in degC when the unit is degC); NaN when it has none here (no such edge in the window, say), with the reason in <see cref="Remark"/>.</summary>
    public required double Value { get; init; }

    /// <summary>Unit; empty for a ratio.</summary>
    public required string Unit { get; init; }

    /// <summary>Value with prefix and unit, such as <c>7.53 V</c>; <c>no value</c> when it has none.</summary>
    public required string Display { get; init; }

    /// <summary>Definition of the metric in words.</summary>
    public required string Definition { get; init; }

    /// <summary>Name of the condition.</summary>
    public required string Condition { get; init; }

    /// <summary>Name of the observation.</summary>
    public required string Of { get; init; }

    /// <summary>Start of the window in seconds.</summary>
    public required double From { get; init; }

    /// <summary>End of the window in seconds.</summary>
    public required double To { get; init; }

    /// <summary>Why there is no value; empty when there is one.</summary>
    public string Remark { get; init; } = "";
}
