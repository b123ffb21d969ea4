namespace BoardSim.Measurement;

/// <summary>What a metric gives: a finite value, or the reason why there is none here.</summary>
public readonly record struct MetricResult
{
    private readonly double value;
    private readonly string? reason;

    private MetricResult(double value, string? reason) => (this.value, this.reason) = (value, reason);

    /// <summary>True when there is a value.</summary>
    public bool HasValue => reason is null;

    /// <summary>The value in the metric's unit.</summary>
    /// <exception cref="InvalidOperationException">There is none; the message is the reason.</exception>
    public double Value => reason is null ? value : throw new InvalidOperationException(reason);

    /// <summary>Why there is no value, one sentence; empty when there is one.</summary>
    public string Reason => reason ?? "";

    /// <summary>A value; one that is not finite becomes a result without value.</summary>
    /// <param name="value">The value in the metric's unit.</param>
    public static MetricResult Of(double value) =>
        double.IsFinite(value) ? new(value, null) : None("The computation does not give a finite number.");

    /// <summary>No value.</summary>
    /// <param name="reason">Why, one sentence.</param>
    public static MetricResult None(string reason) => new(0, reason);

    /// <summary>The value transformed; a reason stays as it is.</summary>
    /// <param name="next">Applied to the value.</param>
    public MetricResult Then(Func<double, double> next)
    {
        ArgumentNullException.ThrowIfNull(next);
        return HasValue ? Of(next(value)) : this;
    }

    /// <summary>Makes a value a result.</summary>
    /// <param name="value">The value in the metric's unit.</param>
    public static implicit operator MetricResult(double value) => Of(value);

    /// <summary>Makes a value a result; the same as <see cref="Of"/>.</summary>
    /// <param name="value">The value in the metric's unit.</param>
    public static MetricResult FromDouble(double value) => Of(value);
}
