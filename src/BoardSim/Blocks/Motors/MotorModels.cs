using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Motors;

/// <summary>Semiconductor parameters of the motor drives; typical of the class of part, not of a product.</summary>
internal static class MotorModels
{
    /// <summary>Body diode of a 2 A field-effect transistor, or a rectifier across a motor. Its capacitance is left out: switches that turn in no time would empty it in spikes of
    /// nanoseconds that no transistor lets through.</summary>
    public static DiodeModel BodyDiode { get; } = new()
    {
        SaturationCurrent = 1e-11,
        EmissionCoefficient = 1.2,
        SeriesResistance = 0.08,
    };

    /// <summary>Small NPN transistor, 100 mA class. Charges are left out: at a kilohertz its edges are no matter, and each costs steps.</summary>
    public static BipolarModel LevelShifter { get; } = new()
    {
        SaturationCurrent = 2e-14,
        ForwardBeta = 250,
        ReverseBeta = 5,
        ForwardEarlyVoltage = 60,
        ForwardKneeCurrent = 0.15,
        BaseResistance = 20,
        EmitterResistance = 0.3,
        CollectorResistance = 1,
    };

    /// <summary>PNP transistor of the 1 A class, its charges left out likewise.</summary>
    public static BipolarModel Buffer(double beta) => new()
    {
        IsPnp = true,
        SaturationCurrent = 1e-13,
        ForwardBeta = beta,
        ReverseBeta = 5,
        ForwardEarlyVoltage = 60,
        ForwardKneeCurrent = 1,
        BaseResistance = 5,
        EmitterResistance = 0.05,
        CollectorResistance = 0.15,
    };
}
