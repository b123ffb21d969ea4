using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Writing;

/// <summary>Model parameters by their Berkeley letters, with Berkeley's defaults.</summary>
internal static class ModelValues
{
    private const double DefaultCelsius = 27;

    /// <summary>Degrees Celsius, free of the dust that subtracting 273.15 leaves.</summary>
    public static double Celsius(double kelvin) => Math.Round(kelvin - 273.15, 9);

    public static (string, double, double) Nominal(double kelvin) => ("TNOM", Celsius(kelvin), DefaultCelsius);

    public static (string, double, double)[] Of(DiodeModel m) =>
    [
        ("IS", m.SaturationCurrent, 1e-14), ("N", m.EmissionCoefficient, 1), ("RS", m.SeriesResistance, 0), ("CJO", m.JunctionCapacitance, 0),
        ("VJ", m.JunctionPotential, 1), ("M", m.Grading, 0.5), ("FC", m.ForwardCoefficient, 0.5), ("TT", m.TransitTime, 0),
        ("BV", m.BreakdownVoltage, double.PositiveInfinity), ("IBV", m.BreakdownCurrent, 1e-3), ("EG", m.EnergyGap, 1.11),
        ("XTI", m.SaturationExponent, 3), Nominal(m.NominalTemperature),
    ];

    public static (string, double, double)[] Of(BipolarModel m) =>
    [
        ("IS", m.SaturationCurrent, 1e-16), ("BF", m.ForwardBeta, 100), ("NF", m.ForwardEmission, 1), ("VAF", m.ForwardEarlyVoltage, 0),
        ("IKF", m.ForwardKneeCurrent, 0), ("ISE", m.BaseEmitterLeakage, 0), ("NE", m.BaseEmitterLeakageEmission, 1.5),
        ("BR", m.ReverseBeta, 1), ("NR", m.ReverseEmission, 1), ("VAR", m.ReverseEarlyVoltage, 0), ("IKR", m.ReverseKneeCurrent, 0),
        ("ISC", m.BaseCollectorLeakage, 0), ("NC", m.BaseCollectorLeakageEmission, 2), ("RB", m.BaseResistance, 0),
        ("RE", m.EmitterResistance, 0), ("RC", m.CollectorResistance, 0), ("CJE", m.BaseEmitterCapacitance, 0),
        ("VJE", m.BaseEmitterPotential, 0.75), ("MJE", m.BaseEmitterGrading, 0.33), ("CJC", m.BaseCollectorCapacitance, 0),
        ("VJC", m.BaseCollectorPotential, 0.75), ("MJC", m.BaseCollectorGrading, 0.33), ("TF", m.ForwardTransitTime, 0),
        ("TR", m.ReverseTransitTime, 0), ("XTB", m.BetaExponent, 0), ("EG", m.EnergyGap, 1.11), ("XTI", m.SaturationExponent, 3),
        ("FC", m.ForwardCoefficient, 0.5), Nominal(m.NominalTemperature),
    ];

    /// <summary>Threshold, transconductance, body effect and surface potential are always stated, so what they were derived from is not.</summary>
    public static (string, double, double)[] Of(MosfetModel m) =>
    [
        ("LEVEL", 1, 0), ("VTO", m.ThresholdVoltage, double.NaN), ("KP", m.TransconductanceParameter, double.NaN),
        ("GAMMA", m.BodyEffect, double.NaN), ("PHI", m.SurfacePotential, double.NaN), ("LAMBDA", m.ChannelLengthModulation, 0),
        ("RD", m.DrainResistance, 0), ("RS", m.SourceResistance, 0), ("RSH", m.SheetResistance, 0),
        ("IS", m.BulkSaturationCurrent, 1e-14), ("JS", m.BulkSaturationDensity, 0), ("CBD", m.BulkDrainCapacitance, 0),
        ("CBS", m.BulkSourceCapacitance, 0), ("PB", m.BulkPotential, 0.8), ("CJ", m.BottomCapacitance, 0), ("MJ", m.BottomGrading, 0.5),
        ("CJSW", m.SidewallCapacitance, 0), ("MJSW", m.SidewallGrading, 0.5), ("FC", m.ForwardCoefficient, 0.5),
        ("CGSO", m.GateSourceOverlap, 0), ("CGDO", m.GateDrainOverlap, 0), ("CGBO", m.GateBulkOverlap, 0),
        ("TOX", m.OxideThickness ?? 0, 0), ("LD", m.LateralDiffusion, 0), Nominal(m.NominalTemperature),
    ];

    public static (string, double, double)[] Of(SwitchModel m, char quantity) =>
    [
        ("RON", m.OnResistance, 1), ("ROFF", m.OffResistance, 1e12), (quantity + "T", m.Threshold, 0), (quantity + "H", m.Hysteresis, 0),
    ];
}
