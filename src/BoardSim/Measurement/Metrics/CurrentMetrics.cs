using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of currents: inrush, let-through, conduction, heating of a capacitor.</summary>
internal static class CurrentMetrics
{
    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "inrush-peak", Title = "Inrush peak", Of = Unit.Ampere,
            Definition = "Largest magnitude of the current in the window, which is laid over the switching-on (common practice, no source).",
            Compute = input => Math.Abs(input.Wave.Peak().Value),
        },
        new()
        {
            Id = "i2t", Title = "I2t", Of = Unit.Ampere, Unit = Unit.AmpereSquaredSecond,
            Definition = "Integral of the square of the current over the window (Joule integral, IEC 60127-1), to be held against a fuse's melting I2t or a diode's surge rating.",
            Compute = input => input.Wave.IntegralOfSquare(),
        },
        new()
        {
            Id = "capacitor-rms-current", Title = "RMS current of a capacitor", Of = Unit.Ampere,
            Definition = "RMS value of the capacitor's current about its mean, which is zero in the steady state; it is what heats the series resistance (ripple current, IEC 60384-4).",
            Compute = input => input.Wave.AcRms(),
        },
        new()
        {
            Id = "conduction-angle", Title = "Conduction angle", Of = Unit.Ampere, Unit = Unit.Degree,
            Definition = "Time during which the magnitude of the current exceeds the threshold, per half cycle, as an angle of the mains cycle; taken over the last whole cycles of the window (common practice, no source).",
            Parameters =
            [
                CommonParameters.Frequency,
                new("threshold", Unit.Ratio, "Share of the peak current above which the part is taken to conduct.") { Source = ParameterSource.Default, Default = 0.01, Minimum = 1e-6, Maximum = 0.5 },
                new("pulses-per-cycle", Unit.Ratio, "Current pulses that share the time: 2 for a bridge, 1 for a half-wave rectifier.") { Source = ParameterSource.Default, Default = 2, Minimum = 1, Maximum = 2, IsWhole = true },
            ],
            Compute = Conduction,
        },
    ];

    private static MetricResult Conduction(MetricInput input)
    {
        var frequency = input["frequency"];
        if (WholeCycles.Last(input.Wave, frequency) is not { } whole)
        {
            return WholeCycles.TooShort(input.Wave, frequency);
        }

        var threshold = input["threshold"] * Math.Abs(whole.Wave.Peak().Value);
        var share = threshold > 0 ? whole.Wave.TimeAbove(threshold) + whole.Wave.Scaled(-1).TimeAbove(threshold) : 0;
        return 360 * share / whole.Wave.Duration / input["pulses-per-cycle"];
    }
}
