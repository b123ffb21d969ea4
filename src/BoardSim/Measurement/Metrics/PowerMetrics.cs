using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of a voltage and a current: power and power factor.</summary>
internal static class PowerMetrics
{
    private const string Role = "the current when the first is a voltage, or the other way round";

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "power", Title = "Real power", Unit = Unit.Watt, SecondRole = Role, NeedsSecond = true,
            Definition = "Mean of voltage times current over the window (active power, IEC 60050-131); of whole cycles when the quantities are periodic.",
            Compute = input => Check(input) ?? WaveformIntegrals.MeanOfProduct(input.Wave, input.Second!),
        },
        new()
        {
            Id = "energy", Title = "Energy", Unit = Unit.Joule, SecondRole = Role, NeedsSecond = true,
            Definition = "Integral of voltage times current over the window (IEC 60050-131): what a varistor takes of a surge, or a contact of an arc.",
            Compute = input => Check(input) ?? WaveformIntegrals.MeanOfProduct(input.Wave, input.Second!) * input.Wave.Duration,
        },
        new()
        {
            Id = "apparent-power", Title = "Apparent power", Unit = Unit.VoltAmpere, SecondRole = Role, NeedsSecond = true,
            Definition = "RMS voltage times RMS current over the window (IEC 60050-131; IEEE 1459-2010).",
            Compute = input => Check(input) ?? input.Wave.Rms() * input.Second!.Rms(),
        },
        new()
        {
            Id = "power-factor", Title = "Power factor", Unit = Unit.Ratio, SecondRole = Role, NeedsSecond = true,
            Definition = "Real power divided by apparent power, over the last whole cycles of the window (IEC 60050-131; IEEE 1459-2010); negative when the source takes power in.",
            Parameters = [CommonParameters.Frequency],
            Compute = PowerFactor,
        },
        new()
        {
            Id = "displacement-factor", Title = "Displacement factor", Unit = Unit.Ratio, SecondRole = Role, NeedsSecond = true,
            Definition = "Cosine of the angle between the fundamentals of voltage and current (displacement power factor of IEEE 1459-2010).",
            Parameters = [CommonParameters.Frequency],
            Compute = Displacement,
        },
    ];

    private static MetricResult? Check(MetricInput input)
    {
        var (a, b) = (input.Wave, input.Second!);
        var pair = (a.Unit == Unit.Volt && b.Unit == Unit.Ampere) || (a.Unit == Unit.Ampere && b.Unit == Unit.Volt);
        return pair ? null : MetricResult.None($"Power takes a voltage and a current; {a.Name} is a {a.Unit.Kind} and {b.Name} a {b.Unit.Kind}.");
    }

    private static MetricResult PowerFactor(MetricInput input)
    {
        var frequency = input["frequency"];
        if (Check(input) is { } wrong)
        {
            return wrong;
        }

        var (a, b) = WaveformArithmetic.OnSharedTimes(input.Wave, input.Second!);
        if (WholeCycles.Last(a, frequency) is not { } first || WholeCycles.Last(b, frequency) is not { } second)
        {
            return WholeCycles.TooShort(a, frequency);
        }

        var apparent = first.Wave.Rms() * second.Wave.Rms();
        return apparent > 0
            ? WaveformIntegrals.MeanOfProduct(first.Wave, second.Wave) / apparent
            : MetricResult.None("The voltage or the current is zero throughout, so there is no apparent power to divide by.");
    }

    private static MetricResult Displacement(MetricInput input)
    {
        var frequency = input["frequency"];
        if (Check(input) is { } wrong)
        {
            return wrong;
        }

        var (a, b) = WaveformArithmetic.OnSharedTimes(input.Wave, input.Second!);
        if (HarmonicAnalysis.Of(a, frequency, 1) is not { } first || HarmonicAnalysis.Of(b, frequency, 1) is not { } second)
        {
            return WholeCycles.TooShort(a, frequency);
        }

        return first.Peak(1) > 0 && second.Peak(1) > 0
            ? Math.Cos(first.Phase(1) - second.Phase(1))
            : MetricResult.None("The voltage or the current has no fundamental.");
    }
}
