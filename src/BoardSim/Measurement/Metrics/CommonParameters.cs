using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Parameters that several metrics share.</summary>
internal static class CommonParameters
{
    public static MetricParameter Frequency { get; } = new("frequency", Unit.Hertz, "Frequency of the fundamental; that of the mains unless given.")
    {
        Source = ParameterSource.LineFrequency,
        Minimum = 1e-3,
    };

    public static MetricParameter From { get; } = new("from", Unit.Second, "Instant from which the time counts; the start of the window unless given.")
    {
        Source = ParameterSource.Derived,
    };

    public static MetricParameter Level { get; } = new("level", null, "Level that is waited for.") { Source = ParameterSource.Required };

    public static MetricParameter StateLow { get; } = new("state-low", null, "Level of the low state; the mode of the lower half of the histogram unless given.")
    {
        Source = ParameterSource.Derived,
    };

    public static MetricParameter StateHigh { get; } = new("state-high", null, "Level of the high state; the mode of the upper half of the histogram unless given.")
    {
        Source = ParameterSource.Derived,
    };
}
