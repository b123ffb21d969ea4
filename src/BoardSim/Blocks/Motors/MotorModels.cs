using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Motors;

/// <summary>Semiconductor parameters of the motor drives; typical of the class of part, not of a product.</summary>
internal static class MotorModels
{
    /// <summary>Body diode of a 2 A field-effect transistor. Its capacitance is left out: switches that turn in no time would empty it in spikes of
    /// nanoseconds that no transistor lets through.</summary>
    public static DiodeModel BodyDiode { get; } = new()
    {
        SaturationCurrent = 1e-11,
        EmissionCoefficient = 1.2,
        SeriesResistance = 0.08,
    };

    /// <summary>1 A rectifier across a motor.</summary>
    public static DiodeModel FreeWheel { get; } = new()
    {
        SaturationCurrent = 5e-9,
        EmissionCoefficient = 1.8,
        SeriesResistance = 0.05,
        JunctionCapacitance = 20e-12,
        JunctionPotential = 0.7,
        BreakdownVoltage = 400,
    };
}
