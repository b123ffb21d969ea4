using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>A number that can be derived from waveforms, as data: tables, files and the command line list metrics from here.</summary>
public sealed record Metric
{
    /// <summary>Name in scenario files: lower case words joined by hyphens.</summary>
    public required string Id { get; init; }

    /// <summary>Name for people.</summary>
    public required string Title { get; init; }

    /// <summary>Unit of the value; null for the unit of the observed waveform.</summary>
    public Unit? Unit { get; init; }

    /// <summary>What it is, one or two sentences with the source of the definition.</summary>
    public required string Definition { get; init; }

    /// <summary>The parameters it takes.</summary>
    public IReadOnlyList<MetricParameter> Parameters { get; init; } = [];

    /// <summary>Unit that the observed waveform must have; null for any.</summary>
    public Unit? Of { get; init; }

    /// <summary>What the second waveform is; null when the metric takes one waveform only.</summary>
    public string? SecondRole { get; init; }

    /// <summary>True when the metric cannot do without the second waveform.</summary>
    public bool NeedsSecond { get; init; }

    /// <summary>True when it is taken of a response over frequency (the waveform's instants are frequencies then), false when over time.</summary>
    public bool OverFrequency { get; init; }

    /// <summary>The computation; parameters are resolved and checked before it is called.</summary>
    public required Func<MetricInput, MetricResult> Compute { get; init; }

    /// <summary>Unit of the value for a waveform.</summary>
    /// <param name="wave">The observed waveform.</param>
    public Unit UnitFor(Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        return Unit ?? wave.Unit;
    }

    /// <summary>Computes the metric.</summary>
    /// <param name="input">Waveforms, parameters and circumstances.</param>
    /// <returns>The value in <see cref="UnitFor"/>, or the reason why there is none.</returns>
    public MetricResult Evaluate(MetricInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (Of is not null && input.Wave.Unit != Of)
        {
            return MetricResult.None($"{Title} is taken of a {Of.Kind}; {input.Wave.Name} is a {input.Wave.Unit.Kind}.");
        }

        if (NeedsSecond && input.Second is null)
        {
            return MetricResult.None($"{Title} needs a second waveform: {SecondRole}.");
        }

        if (input.Parameters.Keys.FirstOrDefault(key => Parameters.All(p => p.Key != key)) is { } stranger)
        {
            var known = Parameters.Count == 0 ? "it takes none" : $"it takes {string.Join(", ", Parameters.Select(p => p.Key))}";
            return MetricResult.None($"{Title} has no parameter {stranger}; {known}.");
        }

        var resolved = new Dictionary<string, double>();
        foreach (var parameter in Parameters)
        {
            if (parameter.Resolve(input) is { } value)
            {
                if (parameter.Problem(value) is { } problem)
                {
                    return MetricResult.None($"{Title}: {problem}");
                }

                resolved[parameter.Key] = value;
            }
            else if (parameter.Source != ParameterSource.Derived)
            {
                return MetricResult.None($"{Title} needs the parameter {parameter.Key} ({parameter.Description})");
            }
        }

        return Compute(input with { Parameters = resolved });
    }

    /// <summary>Computes the metric of one waveform.</summary>
    /// <param name="wave">The waveform, cut to the window.</param>
    /// <param name="parameters">Parameters in SI units.</param>
    public MetricResult Evaluate(Waveform wave, params (string Key, double Value)[] parameters) =>
        Evaluate(new MetricInput { Wave = wave, Parameters = parameters.ToDictionary(p => p.Key, p => p.Value) });

    /// <summary>Computes the metric of two waveforms.</summary>
    /// <param name="wave">The observed waveform, cut to the window.</param>
    /// <param name="second">The second one.</param>
    /// <param name="parameters">Parameters in SI units.</param>
    public MetricResult Evaluate(Waveform wave, Waveform second, params (string Key, double Value)[] parameters) =>
        Evaluate(new MetricInput { Wave = wave, Second = second, Parameters = parameters.ToDictionary(p => p.Key, p => p.Value) });
}
