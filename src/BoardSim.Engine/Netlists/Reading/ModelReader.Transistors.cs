using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Reading;

/// <content>Bipolar transistors and MOSFETs.</content>
internal static partial class ModelReader
{
    private const string HigherLevel = "is a parameter of levels 2 and 3, which level 1 does not look at";

    private static readonly ParameterTable BipolarTable = new ParameterTable("NPN or PNP")
        .Used(
            "IS", "BF", "NF", "VAF", "IKF", "ISE", "NE", "BR", "NR", "VAR", "IKR", "ISC", "NC", "RB", "RBM", "RE", "RC", "CJE", "VJE",
            "MJE", "TF", "CJC", "VJC", "MJC", "TR", "XTB", "EG", "XTI", "FC", "TNOM")
        .Alias("VA", "VAF").Alias("IK", "IKF").Alias("VB", "VAR").Alias("PE", "VJE").Alias("ME", "MJE").Alias("PC", "VJC").Alias("MC", "MJC")
        .OnlyAt(0, "makes the transit time depend on the bias, which this transistor does not do", "XTF")
        .OnlyAt(0, "adds excess phase, which this transistor does not have", "PTF")
        .OnlyAt(1, "splits the base-collector capacitance, which this transistor does not do", "XCJC")
        .OnlyAt(0, "adds a capacitance to the substrate, which this transistor does not have", "CJS", "CCS")

        // These shape effects that the lines above hold at nothing, or noise.
        .WithoutEffect("VTF", "ITF", "IRB", "VJS", "PS", "MJS", "MS", "KF", "AF");

    private static readonly ParameterTable MosfetTable = new ParameterTable("NMOS or PMOS")
        .Used(
            "VTO", "KP", "GAMMA", "PHI", "LAMBDA", "RD", "RS", "CBD", "CBS", "IS", "PB", "CGSO", "CGDO", "CGBO", "RSH", "CJ", "MJ",
            "CJSW", "MJSW", "JS", "TOX", "NSUB", "NSS", "TPG", "LD", "UO", "FC", "TNOM")
        .Alias("VT0", "VTO").Alias("U0", "UO")
        .OnlyAt(1, "selects another set of equations", "LEVEL")
        .Refused(HigherLevel, "NFS", "XJ", "UCRIT", "UEXP", "UTRA", "VMAX", "NEFF", "DELTA", "THETA", "ETA", "KAPPA")
        .WithoutEffect("KF", "AF");

    private static BipolarModel Bipolar(ParameterValues v, bool isPnp, double tnom)
    {
        var d = new BipolarModel();
        return new BipolarModel
        {
            IsPnp = isPnp,
            SaturationCurrent = v["IS", d.SaturationCurrent],
            ForwardBeta = v["BF", d.ForwardBeta],
            ForwardEmission = v["NF", d.ForwardEmission],
            ForwardEarlyVoltage = v.InfiniteAtZero("VAF"),
            ForwardKneeCurrent = v.InfiniteAtZero("IKF"),
            BaseEmitterLeakage = v["ISE", d.BaseEmitterLeakage],
            BaseEmitterLeakageEmission = v["NE", d.BaseEmitterLeakageEmission],
            ReverseBeta = v["BR", d.ReverseBeta],
            ReverseEmission = v["NR", d.ReverseEmission],
            ReverseEarlyVoltage = v.InfiniteAtZero("VAR"),
            ReverseKneeCurrent = v.InfiniteAtZero("IKR"),
            BaseCollectorLeakage = v["ISC", d.BaseCollectorLeakage],
            BaseCollectorLeakageEmission = v["NC", d.BaseCollectorLeakageEmission],
            BaseResistance = v["RB", d.BaseResistance],
            EmitterResistance = v["RE", d.EmitterResistance],
            CollectorResistance = v["RC", d.CollectorResistance],
            BaseEmitterCapacitance = v["CJE", d.BaseEmitterCapacitance],
            BaseEmitterPotential = v["VJE", d.BaseEmitterPotential],
            BaseEmitterGrading = v["MJE", d.BaseEmitterGrading],
            BaseCollectorCapacitance = v["CJC", d.BaseCollectorCapacitance],
            BaseCollectorPotential = v["VJC", d.BaseCollectorPotential],
            BaseCollectorGrading = v["MJC", d.BaseCollectorGrading],
            ForwardTransitTime = v["TF", d.ForwardTransitTime],
            ReverseTransitTime = v["TR", d.ReverseTransitTime],
            ForwardCoefficient = v["FC", d.ForwardCoefficient],
            EnergyGap = v["EG", d.EnergyGap],
            SaturationExponent = v["XTI", d.SaturationExponent],
            BetaExponent = v["XTB", d.BetaExponent],
            NominalTemperature = tnom,
        };
    }

    private static MosfetModel Mosfet(ParameterValues v, bool isPChannel, double tnom)
    {
        var d = new MosfetModel();
        var model = new MosfetModel
        {
            IsPChannel = isPChannel,
            ChannelLengthModulation = v["LAMBDA", d.ChannelLengthModulation],
            DrainResistance = v["RD", d.DrainResistance],
            SourceResistance = v["RS", d.SourceResistance],
            SheetResistance = v["RSH", d.SheetResistance],
            BulkSaturationCurrent = v["IS", d.BulkSaturationCurrent],
            BulkSaturationDensity = v["JS", d.BulkSaturationDensity],
            BulkDrainCapacitance = v["CBD", d.BulkDrainCapacitance],
            BulkSourceCapacitance = v["CBS", d.BulkSourceCapacitance],
            BottomCapacitance = v["CJ", d.BottomCapacitance],
            SidewallCapacitance = v["CJSW", d.SidewallCapacitance],
            BulkPotential = v["PB", d.BulkPotential],
            BottomGrading = v["MJ", d.BottomGrading],
            SidewallGrading = v["MJSW", d.SidewallGrading],
            ForwardCoefficient = v["FC", d.ForwardCoefficient],
            GateSourceOverlap = v["CGSO", d.GateSourceOverlap],
            GateDrainOverlap = v["CGDO", d.GateDrainOverlap],
            GateBulkOverlap = v["CGBO", d.GateBulkOverlap],
            OxideThickness = v.Has("TOX") ? v["TOX", 0] : null,
            LateralDiffusion = v["LD", d.LateralDiffusion],
            SurfaceMobility = v.Has("UO") ? v["UO", 0] : null,
            SubstrateDoping = v.Has("NSUB") ? v["NSUB", 0] : null,
            SurfaceStateDensity = v["NSS", d.SurfaceStateDensity],
            GateType = (int)Math.Clamp(v["TPG", d.GateType], -99, 99),
            NominalTemperature = tnom,
        };

        // Given values win over those that follow from the process; left out, they must stay unset.
        model = v.Has("VTO") ? model with { ThresholdVoltage = v["VTO", 0] } : model;
        model = v.Has("KP") ? model with { TransconductanceParameter = v["KP", 0] } : model;
        model = v.Has("GAMMA") ? model with { BodyEffect = v["GAMMA", 0] } : model;
        return v.Has("PHI") ? model with { SurfacePotential = v["PHI", 0] } : model;
    }
}
