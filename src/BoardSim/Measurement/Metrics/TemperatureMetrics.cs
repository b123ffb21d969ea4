using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of a temperature as a processor takes it from a sensing voltage.</summary>
internal static class TemperatureMetrics
{
    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "indicated-temperature", Title = "Indicated temperature", Of = Unit.Volt, Unit = Unit.Temperature,
            Definition = "Temperature that the processor's table gives for the converter code of the mean voltage in the window (common practice, no source).",
            Compute = Indicated,
        },
        new()
        {
            Id = "temperature-error", Title = "Error of the indicated temperature", Of = Unit.Volt, Unit = Unit.Kelvin,
            Definition = "Indicated minus true temperature (error of indication, IEC 60050-311).",
            Parameters = [new("true-temperature", Unit.Temperature, "Temperature of the sensor.") { Source = ParameterSource.Required, Minimum = 0 }],
            Compute = input => Indicated(input).Then(indicated => indicated - input["true-temperature"]),
        },
    ];

    private static MetricResult Indicated(MetricInput input) =>
        input.Indication is { } table
            ? table(input.Wave.Mean())
            : MetricResult.None("The board has no temperature table to look the voltage up in.");
}
