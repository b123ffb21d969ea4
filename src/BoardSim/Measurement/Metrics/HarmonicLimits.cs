using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Harmonics of a line current against the limits of IEC 61000-3-2: the answer is yes where the share is one or less.</summary>
internal static class HarmonicLimits
{
    private const int Highest = 40;

    // IEC 61000-3-2, clause 7: equipment of class D up to this rated power has no limits.
    private const double LeastWatts = 75;

    // IEC 61000-3-2, table 1, amperes RMS by order; 230 V lines. Beyond the listed orders odd ones follow 0.15 * 15 / n, even ones 0.23 * 8 / n.
    private static readonly double[] Odd = [2.30, 1.14, 0.77, 0.40, 0.33, 0.21];
    private static readonly double[] Even = [1.08, 0.43, 0.30];

    // Table 3, milliamperes per watt for orders 3 to 11; beyond 3.85 / n.
    private static readonly double[] PerWatt = [3.4e-3, 1.9e-3, 1.0e-3, 0.5e-3, 0.35e-3];

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "harmonic-limit-class-a", Title = "Largest harmonic as a share of its limit, class A", Unit = Unit.Ratio, Of = Unit.Ampere,
            Definition = "Largest of the harmonics 2 to 40 of a line current, each divided by its limit for equipment of class A (IEC 61000-3-2:2018, table 1): one or less passes. Limits are those for 230 V lines; "
                + "equipment up to 75 W has none.",
            Parameters = [CommonParameters.Frequency],
            Compute = input => Largest(input, 2, 1, ClassA),
        },
        new()
        {
            Id = "harmonic-limit-class-d", Title = "Largest harmonic as a share of its limit, class D", Unit = Unit.Ratio, Of = Unit.Ampere, SecondRole = "the line voltage, which makes the power that limits go by", NeedsSecond = true,
            Definition = "Largest of the odd harmonics 3 to 39 of a line current, each divided by its limit for equipment of class D, which goes by the real power and is at most that of class A (IEC 61000-3-2:2018, table 3): "
                + "one or less passes. For 75 W to 600 W on 230 V lines.",
            Parameters = [CommonParameters.Frequency],
            Compute = ClassD,
        },
    ];

    private static MetricResult ClassD(MetricInput input)
    {
        if (input.Second!.Unit != Unit.Volt)
        {
            return MetricResult.None($"{input.Second.Name} is a {input.Second.Unit.Kind}; the second observation has to be the line voltage.");
        }

        var power = Metrics.Get("power").Evaluate(input.Wave, input.Second);
        return !power.HasValue ? power
            : power.Value > LeastWatts ? Largest(input, 3, 2, order => Math.Min(ClassA(order), power.Value * (order <= 11 ? PerWatt[(order - 3) / 2] : 3.85e-3 / order)))
            : MetricResult.None($"It takes {Quantity.FormatShort(power.Value, Unit.Watt)}, and up to 75 W there are no limits.");
    }

    private static double ClassA(int order) => order % 2 == 1
        ? order <= 13 ? Odd[(order - 3) / 2] : 0.15 * 15 / order
        : order <= 6 ? Even[order / 2 - 1] : 0.23 * 8 / order;

    private static MetricResult Largest(MetricInput input, int first, int step, Func<int, double> limit)
    {
        if (HarmonicAnalysis.Of(input.Wave, input["frequency"], Highest) is not { } found)
        {
            return WholeCycles.TooShort(input.Wave, input["frequency"]);
        }

        var largest = 0.0;
        for (var order = first; order <= Highest; order += step)
        {
            largest = Math.Max(largest, found.Rms(order) / limit(order));
        }

        return largest;
    }
}
