using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Relays;

/// <summary>Semiconductor parameters of the relay driver; typical of the class of part, not of a product.</summary>
internal static class DriverModels
{
    /// <summary>Small NPN transistor, 100 mA class.</summary>
    public static BipolarModel SmallNpn(double beta) => new()
    {
        SaturationCurrent = 2e-14,
        ForwardBeta = beta,
        ReverseBeta = 5,
        ForwardEarlyVoltage = 60,
        ForwardKneeCurrent = 0.15,
        BaseResistance = 20,
        EmitterResistance = 0.3,
        CollectorResistance = 1,
        BaseEmitterCapacitance = 13e-12,
        BaseCollectorCapacitance = 5e-12,
        ForwardTransitTime = 0.6e-9,
        ReverseTransitTime = 60e-9,
    };

    /// <summary>Output transistor of a Darlington channel, 500 mA class.</summary>
    public static BipolarModel DarlingtonOutput(double beta) => SmallNpn(beta) with
    {
        SaturationCurrent = 1e-13,
        ForwardKneeCurrent = 0.5,
        BaseResistance = 5,
        EmitterResistance = 0.2,
        CollectorResistance = 0.5,
        BaseEmitterCapacitance = 40e-12,
        BaseCollectorCapacitance = 20e-12,
    };

    /// <summary>
    /// Collector-base breakdown, as a diode of its own beside the transistor: its current enters the base and is amplified, so
    /// the transistor holds its collector a little above this voltage while the coil empties into it. Forwards it hardly
    /// conducts; that is the transistor's own junction's business.
    /// </summary>
    public static DiodeModel Breakdown(double volts) => new()
    {
        SaturationCurrent = 1e-18,
        EmissionCoefficient = 4,
        BreakdownVoltage = volts,
    };

    /// <summary>1 A rectifier across the coil.</summary>
    public static DiodeModel FreeWheel { get; } = new()
    {
        SaturationCurrent = 5e-9,
        EmissionCoefficient = 1.8,
        SeriesResistance = 0.05,
        JunctionCapacitance = 20e-12,
        JunctionPotential = 0.7,
        TransitTime = 3e-6,
        BreakdownVoltage = 400,
    };

    /// <summary>Zener diode in series with the free-wheel diode; some ohms of its own, as a 1 W part has.</summary>
    public static DiodeModel Zener(double volts) => new()
    {
        SaturationCurrent = 1e-12,
        EmissionCoefficient = 1.2,
        SeriesResistance = 5,
        JunctionCapacitance = 50e-12,
        JunctionPotential = 0.7,
        BreakdownVoltage = volts,
    };

    /// <summary>A transistor as a run can use it: hours have no room for the nanoseconds of its charges, since a step cannot be much shorter than what tells two instants apart.</summary>
    public static BipolarModel For(LineDetail detail, BipolarModel model) => detail == LineDetail.Waveform ? model
        : model with { BaseEmitterCapacitance = 0, BaseCollectorCapacitance = 0, ForwardTransitTime = 0, ReverseTransitTime = 0 };

    /// <summary>A diode likewise.</summary>
    public static DiodeModel For(LineDetail detail, DiodeModel model) => detail == LineDetail.Waveform ? model
        : model with { JunctionCapacitance = 0, TransitTime = 0 };
}
