using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of a response over frequency. Between computed frequencies a response is a straight line over the logarithm of the frequency.</summary>
internal static class ResponseMetrics
{
    private static readonly MetricParameter At = new("frequency", Unit.Hertz, "Frequency that is looked at.") { Source = ParameterSource.Required, Minimum = 1e-9 };

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "response-at", Title = "Response at a frequency", OverFrequency = true,
            Definition = "Value of the response at the given frequency.",
            Parameters = [At],
            Compute = input => Value(input.Wave, input["frequency"]),
        },
        new()
        {
            Id = "response-highest", Title = "Highest response", OverFrequency = true,
            Definition = "Largest value within the computed frequencies.",
            Compute = input => input.Wave.Maximum().Value,
        },
        new()
        {
            Id = "response-lowest", Title = "Lowest response", OverFrequency = true,
            Definition = "Smallest value within the computed frequencies.",
            Compute = input => input.Wave.Minimum().Value,
        },
        new()
        {
            Id = "frequency-of-highest", Title = "Frequency of the highest response", Unit = Unit.Hertz, OverFrequency = true,
            Definition = "Computed frequency at which the response is largest: that of a resonance, say.",
            Compute = input => input.Wave.Maximum().Time,
        },
        new()
        {
            Id = "crossing-frequency", Title = "Crossing frequency", Unit = Unit.Hertz, OverFrequency = true,
            Definition = "Lowest frequency at which the response falls through the level; at 0 dB it is the crossover frequency of a loop gain.",
            Parameters = [CommonParameters.Level with { Description = "Level that is crossed downwards." }],
            Compute = input => Crossing(input.Wave, input["level"]) is { } hertz
                ? hertz
                : MetricResult.None($"{input.Wave.Name} does not fall through {Show.Value(input["level"], input.Wave)} within the computed frequencies."),
        },
        new()
        {
            Id = "corner-frequency", Title = "Corner frequency", Unit = Unit.Hertz, OverFrequency = true, Of = Unit.Decibel,
            Definition = "Lowest frequency at which the level has fallen by 3 dB, or as given, below that at the lowest computed frequency (half-power bandwidth of a low pass).",
            Parameters = [new("drop", Unit.Decibel, "By how much it has fallen there.") { Source = ParameterSource.Default, Default = 20 * Math.Log10(Math.Sqrt(2)), Minimum = 1e-3 }],
            Compute = input => Crossing(input.Wave, input.Wave.Values[0] - input["drop"]) is { } hertz
                ? hertz
                : MetricResult.None($"{input.Wave.Name} does not fall that far within the computed frequencies."),
        },
        new()
        {
            Id = "phase-margin", Title = "Phase margin", Unit = Unit.Degree, OverFrequency = true, Of = Unit.Decibel, NeedsSecond = true,
            SecondRole = "the phase of the same response",
            Definition = "Phase where the level falls through 0 dB, of what comes back around a loop per what was sent in, the half turn of negative feedback included: what is left until the loop keeps itself going "
                + "(phase margin; Ogata, Modern Control Engineering, 5th edition, section 7-7, from memory).",
            Compute = PhaseMargin,
        },
        new()
        {
            Id = "gain-margin", Title = "Gain margin", Unit = Unit.Decibel, OverFrequency = true, Of = Unit.Decibel, NeedsSecond = true,
            SecondRole = "the phase of the same response",
            Definition = "How far the level lies below 0 dB where the phase, the half turn of negative feedback included, falls through zero (gain margin; Ogata, Modern Control Engineering, 5th edition, section 7-7, from memory).",
            Compute = input => input.Second!.Unit != Unit.Degree ? NoPhase(input)
                : Crossing(input.Second, 0) is { } hertz ? -Along(input.Wave, hertz)
                : MetricResult.None($"{input.Second.Name} does not fall through zero within the computed frequencies."),
        },
    ];

    private static MetricResult PhaseMargin(MetricInput input)
    {
        if (input.Second!.Unit != Unit.Degree)
        {
            return NoPhase(input);
        }

        return Crossing(input.Wave, 0) is { } hertz
            ? Math.IEEERemainder(Along(input.Second, hertz), 360)
            : MetricResult.None($"{input.Wave.Name} does not fall through 0 dB within the computed frequencies.");
    }

    private static MetricResult NoPhase(MetricInput input) =>
        MetricResult.None($"{input.Second!.Name} is a {input.Second.Unit.Kind}; the second observation has to be the phase of the same response.");

    private static MetricResult Value(Waveform wave, double hertz) =>
        hertz < wave.Start || hertz > wave.End
            ? MetricResult.None($"{Quantity.FormatShort(hertz, Unit.Hertz)} lies outside the computed frequencies, {Quantity.FormatShort(wave.Start, Unit.Hertz)} to {Quantity.FormatShort(wave.End, Unit.Hertz)}.")
            : Along(wave, hertz);

    private static double Along(Waveform wave, double hertz)
    {
        var times = wave.Times;
        var values = wave.Values;
        var k = times.BinarySearch(hertz);
        if (k >= 0)
        {
            return values[k];
        }

        k = Math.Clamp(~k, 1, times.Length - 1);
        var share = Math.Log(hertz / times[k - 1]) / Math.Log(times[k] / times[k - 1]);
        return values[k - 1] + share * (values[k] - values[k - 1]);
    }

    private static double? Crossing(Waveform wave, double level)
    {
        var times = wave.Times;
        var values = wave.Values;
        for (var k = 1; k < times.Length; k++)
        {
            if (values[k - 1] >= level && values[k] < level)
            {
                var share = (level - values[k - 1]) / (values[k] - values[k - 1]);
                return times[k - 1] * Math.Pow(times[k] / times[k - 1], share);
            }
        }

        return null;
    }
}
