namespace BoardSim.Engine.Devices;

/// <summary>
/// Parameters of a MOSFET, shared by all transistors of one model. Letters as in Berkeley SPICE's models NMOS and PMOS, level 1.
/// Threshold, transconductance, body effect and surface potential may be given, or follow from oxide thickness, doping and
/// mobility as in Berkeley SPICE; a given value wins.
/// </summary>
public sealed record MosfetModel
{
    private const double OxidePermittivity = 3.9 * 8.854214871e-12;
    private const double SiliconPermittivity = 11.7 * 8.854214871e-12;
    private const double Charge = 1.602176634e-19;
    private const double IntrinsicDensity = 1.45e16;

    private readonly double? threshold, transconductance, bodyEffect, surfacePotential;

    /// <summary>True for a P-channel, false for an N-channel transistor.</summary>
    public bool IsPChannel { get; init; }

    /// <summary>Threshold voltage VTO in volts without body bias; negative for a P-channel enhancement type. 0 unless given or derived
    /// from the doping.</summary>
    public double ThresholdVoltage
    {
        get => threshold ?? (IsDoped ? DerivedThreshold() : 0);
        init => threshold = value;
    }

    /// <summary>Transconductance parameter KP in A/V^2, positive: mobility times oxide capacitance per area. 2e-5 unless given or
    /// derived from the oxide's thickness.</summary>
    public double TransconductanceParameter
    {
        get => transconductance ?? (OxideThickness > 0 ? (SurfaceMobility ?? 600) * 1e-4 * OxideCapacitance : 2e-5);
        init => transconductance = value;
    }

    /// <summary>Body effect parameter GAMMA in V^0.5, zero or more. 0 unless given or derived from the doping.</summary>
    public double BodyEffect
    {
        get => bodyEffect ?? (IsDoped ? Math.Sqrt(2 * SiliconPermittivity * Charge * SubstrateDoping!.Value * 1e6) / OxideCapacitance : 0);
        init => bodyEffect = value;
    }

    /// <summary>Surface potential PHI in volts at strong inversion, positive. 0.6 unless given or derived from the doping.</summary>
    public double SurfacePotential
    {
        get => surfacePotential ?? (IsDoped
            ? Math.Max(0.1, 2 * Junction.VoltsPerKelvin * NominalTemperature * Math.Log(SubstrateDoping!.Value * 1e6 / IntrinsicDensity))
            : 0.6);
        init => surfacePotential = value;
    }

    /// <summary>Channel-length modulation LAMBDA in 1/V, zero or more.</summary>
    public double ChannelLengthModulation { get; init; }

    /// <summary>Drain resistance RD in ohms, zero or more; zero for the sheet resistance times the drain's squares.</summary>
    public double DrainResistance { get; init; }

    /// <summary>Source resistance RS in ohms, zero or more; zero for the sheet resistance times the source's squares.</summary>
    public double SourceResistance { get; init; }

    /// <summary>Sheet resistance RSH of drain and source diffusion in ohms per square, zero or more.</summary>
    public double SheetResistance { get; init; }

    /// <summary>Saturation current IS of each bulk junction in amperes, positive.</summary>
    public double BulkSaturationCurrent { get; init; } = 1e-14;

    /// <summary>Saturation current JS of the bulk junctions per area in A/m^2, zero or more; it takes the place of IS where it and
    /// both junction areas are above zero.</summary>
    public double BulkSaturationDensity { get; init; }

    /// <summary>Zero-bias bulk-drain capacitance CBD in farads, zero or more; zero for CJ times the drain's area.</summary>
    public double BulkDrainCapacitance { get; init; }

    /// <summary>Zero-bias bulk-source capacitance CBS in farads, zero or more; zero for CJ times the source's area.</summary>
    public double BulkSourceCapacitance { get; init; }

    /// <summary>Zero-bias bottom capacitance CJ of the bulk junctions in F/m^2, zero or more.</summary>
    public double BottomCapacitance { get; init; }

    /// <summary>Zero-bias sidewall capacitance CJSW of the bulk junctions in F/m, zero or more.</summary>
    public double SidewallCapacitance { get; init; }

    /// <summary>Potential PB of the bulk junctions in volts, positive.</summary>
    public double BulkPotential { get; init; } = 0.8;

    /// <summary>Grading coefficient MJ of the bulk junctions' bottom, 0 to below 1.</summary>
    public double BottomGrading { get; init; } = 0.5;

    /// <summary>Grading coefficient MJSW of the bulk junctions' sidewall, 0 to below 1.</summary>
    public double SidewallGrading { get; init; } = 0.5;

    /// <summary>Coefficient FC of the forward-bias continuation of the capacitances, 0 to below 1.</summary>
    public double ForwardCoefficient { get; init; } = 0.5;

    /// <summary>Gate-source overlap capacitance CGSO in farads per metre of channel width, zero or more.</summary>
    public double GateSourceOverlap { get; init; }

    /// <summary>Gate-drain overlap capacitance CGDO in farads per metre of channel width, zero or more.</summary>
    public double GateDrainOverlap { get; init; }

    /// <summary>Gate-bulk overlap capacitance CGBO in farads per metre of channel length, zero or more.</summary>
    public double GateBulkOverlap { get; init; }

    /// <summary>Oxide thickness TOX in metres, positive; null for no charge on the gate but the overlaps'.</summary>
    public double? OxideThickness { get; init; }

    /// <summary>Lateral diffusion LD in metres, zero or more; the channel is shorter by twice as much.</summary>
    public double LateralDiffusion { get; init; }

    /// <summary>Surface mobility UO in cm^2/Vs, positive; null for 600.</summary>
    public double? SurfaceMobility { get; init; }

    /// <summary>Substrate doping NSUB in 1/cm^3, above the intrinsic density of 1.45e10; null when it is not known.</summary>
    public double? SubstrateDoping { get; init; }

    /// <summary>Surface state density NSS in 1/cm^2.</summary>
    public double SurfaceStateDensity { get; init; }

    /// <summary>Gate material TPG: +1 opposite to the substrate, -1 the same as the substrate, 0 aluminium.</summary>
    public int GateType { get; init; } = 1;

    /// <summary>Temperature TNOM in kelvin at which the parameters hold.</summary>
    public double NominalTemperature { get; init; } = 300.15;

    /// <summary>Oxide capacitance in F/m^2, zero without an oxide thickness.</summary>
    internal double OxideCapacitance => OxideThickness is > 0 ? OxidePermittivity / OxideThickness.Value : 0;

    private bool IsDoped => OxideThickness > 0 && SubstrateDoping * 1e6 > IntrinsicDensity;

    internal IEnumerable<string> Problems(string name)
    {
        (string What, double Value)[] positive =
        [
            ("transconductance parameter", TransconductanceParameter), ("surface potential", SurfacePotential),
            ("bulk saturation current", BulkSaturationCurrent), ("bulk potential", BulkPotential),
            ("oxide thickness", OxideThickness ?? 1), ("surface mobility", SurfaceMobility ?? 1), ("nominal temperature", NominalTemperature),
        ];
        (string What, double Value)[] notNegative =
        [
            ("body effect", BodyEffect), ("channel-length modulation", ChannelLengthModulation),
            ("drain resistance", DrainResistance), ("source resistance", SourceResistance), ("sheet resistance", SheetResistance),
            ("bulk saturation density", BulkSaturationDensity),
            ("bulk-drain capacitance", BulkDrainCapacitance), ("bulk-source capacitance", BulkSourceCapacitance),
            ("bottom capacitance", BottomCapacitance), ("sidewall capacitance", SidewallCapacitance),
            ("gate-source overlap", GateSourceOverlap), ("gate-drain overlap", GateDrainOverlap), ("gate-bulk overlap", GateBulkOverlap),
            ("lateral diffusion", LateralDiffusion),
        ];
        (string What, double Value)[] fractions =
        [
            ("bottom grading", BottomGrading), ("sidewall grading", SidewallGrading), ("forward-bias coefficient", ForwardCoefficient),
        ];
        foreach (var problem in Ranges.Positive(name, positive).Concat(Ranges.NotNegative(name, notNegative)).Concat(Ranges.Fractions(name, fractions)))
        {
            yield return problem;
        }

        if (!double.IsFinite(ThresholdVoltage))
        {
            yield return $"{name}: threshold voltage {ThresholdVoltage} V; it must be finite.";
        }

        if (SubstrateDoping is { } doping && !(doping * 1e6 > IntrinsicDensity))
        {
            yield return $"{name}: substrate doping {doping} 1/cm^3; it must be above the intrinsic density of 1.45e10 1/cm^3.";
        }

        if (GateType is < -1 or > 1)
        {
            yield return $"{name}: gate type {GateType}; it must be -1, 0 or 1.";
        }
    }

    // Flat-band voltage from the work functions plus the inversion's share (Berkeley SPICE3, model MOS1).
    private double DerivedThreshold()
    {
        double type = IsPChannel ? -1 : 1;
        var gap = Depletion.SiliconGap(NominalTemperature);
        var fermiBulk = type * 0.5 * SurfacePotential;
        var gateWork = GateType == 0 ? 3.2 : 3.25 + 0.5 * gap - type * GateType * 0.5 * gap;
        var flatBand = gateWork - (3.25 + 0.5 * gap + fermiBulk) - SurfaceStateDensity * 1e4 * Charge / OxideCapacitance;
        return flatBand + type * (BodyEffect * Math.Sqrt(SurfacePotential) + SurfacePotential);
    }
}
