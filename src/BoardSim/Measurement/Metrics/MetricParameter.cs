using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>A parameter of a metric.</summary>
/// <param name="Key">Name: lower case words joined by hyphens.</param>
/// <param name="Unit">Unit; null for the unit of the observed waveform.</param>
/// <param name="Description">What it is, one sentence.</param>
public sealed record MetricParameter(string Key, Unit? Unit, string Description)
{
    /// <summary>Where the value comes from when it is not given.</summary>
    public ParameterSource Source { get; init; }

    /// <summary>The default in SI units; of use for <see cref="ParameterSource.Default"/>.</summary>
    public double Default { get; init; }

    /// <summary>Smallest legal value in SI units.</summary>
    public double Minimum { get; init; } = double.NegativeInfinity;

    /// <summary>Largest legal value in SI units.</summary>
    public double Maximum { get; init; } = double.PositiveInfinity;

    /// <summary>True when the value must be a whole number.</summary>
    public bool IsWhole { get; init; }

    /// <summary>What is wrong with a value, one sentence; null when nothing is.</summary>
    /// <param name="value">The value in SI units.</param>
    public string? Problem(double value)
    {
        var shown = Unit is null ? Quantity.FormatNumber(value) : Quantity.FormatShort(value, Unit);
        return !double.IsFinite(value) ? $"{Key}: {shown}; it must be finite."
            : IsWhole && value != Math.Floor(value) ? $"{Key}: {shown}; it must be a whole number."
            : value < Minimum || value > Maximum ? $"{Key}: {shown}; it must lie between {Show(Minimum)} and {Show(Maximum)}."
            : null;
    }

    /// <summary>The value to work with: the given one, the default or what the circumstances say; null when there is none.</summary>
    internal double? Resolve(MetricInput input) =>
        input.Parameters.TryGetValue(Key, out var given) ? given
            : Source switch
            {
                ParameterSource.Default => Default,
                ParameterSource.LineFrequency => input.LineFrequency,
                ParameterSource.SwitchingFrequency => input.SwitchingFrequency,
                _ => null,
            };

    private string Show(double limit) => Unit is null ? Quantity.FormatNumber(limit) : Quantity.FormatShort(limit, Unit);
}
