using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Models with every parameter in use, so that no term of a law is left out by being zero.</summary>
internal static class Samples
{
    public static readonly DiodeModel Diode = new()
    {
        SaturationCurrent = 1e-12,
        EmissionCoefficient = 1.6,
        SeriesResistance = 0.5,
        JunctionCapacitance = 20e-12,
        JunctionPotential = 0.7,
        Grading = 0.4,
        TransitTime = 5e-9,
    };

    public static readonly BipolarModel Npn = new()
    {
        SaturationCurrent = 7e-15,
        ForwardBeta = 250,
        ForwardEmission = 1.01,
        ForwardEarlyVoltage = 60,
        ForwardKneeCurrent = 0.08,
        BaseEmitterLeakage = 3e-14,
        BaseEmitterLeakageEmission = 1.6,
        ReverseBeta = 5,
        ReverseEmission = 0.99,
        ReverseEarlyVoltage = 12,
        ReverseKneeCurrent = 0.02,
        BaseCollectorLeakage = 1e-13,
        BaseCollectorLeakageEmission = 1.8,
        BaseResistance = 20,
        EmitterResistance = 0.3,
        CollectorResistance = 1,
        BaseEmitterCapacitance = 12e-12,
        BaseCollectorCapacitance = 5e-12,
        BaseCollectorGrading = 0.5,
        ForwardTransitTime = 0.4e-9,
        ReverseTransitTime = 60e-9,
        BetaExponent = 1.5,
    };

    public static readonly BipolarModel PlainPnp = Npn with
    {
        IsPnp = true,
        BaseResistance = 0,
        EmitterResistance = 0,
        CollectorResistance = 0,
    };

    public static readonly MosfetModel NChannel = new()
    {
        ThresholdVoltage = 0.9,
        TransconductanceParameter = 5e-5,
        BodyEffect = 0.5,
        SurfacePotential = 0.65,
        ChannelLengthModulation = 0.03,
        DrainResistance = 2,
        SourceResistance = 1,
        BulkDrainCapacitance = 2e-12,
        BottomCapacitance = 3e-4,
        SidewallCapacitance = 2e-10,
        SidewallGrading = 0.33,
        GateSourceOverlap = 2e-10,
        GateDrainOverlap = 1e-10,
        GateBulkOverlap = 1e-10,
        OxideThickness = 50e-9,
        LateralDiffusion = 0.1e-6,
    };

    public static readonly MosfetModel PChannel = NChannel with { IsPChannel = true, ThresholdVoltage = -0.8, DrainResistance = 0, SourceResistance = 0 };
}
