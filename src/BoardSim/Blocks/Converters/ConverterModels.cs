using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Converters;

/// <summary>Semiconductor parameters that converters share; typical of the class of part, not of a product.</summary>
internal static class ConverterModels
{
    // Threshold, and the share of the on resistance that is channel; in a high-voltage part the drift region is most of it.
    private const double Threshold = 3.5;
    private const double ChannelShare = 0.25;

    /// <summary>Gate voltage in volts when driven on.</summary>
    public const double GateDrive = 12;

    /// <summary>Fast 1 A, 1000 V diode of the clamp.</summary>
    public static DiodeModel Clamp { get; } = new()
    {
        SaturationCurrent = 1e-9,
        EmissionCoefficient = 1.7,
        SeriesResistance = 0.1,
        JunctionCapacitance = 15e-12,
        JunctionPotential = 0.7,
        Grading = 0.4,
        TransitTime = 30e-9,
        BreakdownVoltage = 1100,
    };

    /// <summary>5 A, 100 V Schottky rectifier of the output.</summary>
    public static DiodeModel Output(double seriesOhms) => new()
    {
        SaturationCurrent = 2e-6,
        EmissionCoefficient = 1.04,
        SeriesResistance = seriesOhms,
        JunctionCapacitance = 250e-12,
        JunctionPotential = 0.5,
        Grading = 0.45,
        EnergyGap = 0.69,
        SaturationExponent = 2,
        BreakdownVoltage = 110,
    };

    /// <summary>Drain-source breakdown of a MOSFET, as a diode of its own beside the transistor. The large emission coefficient
    /// makes the soft knee of a real part, some volts from a milliampere to an ampere; forwards the transistor's body diode
    /// conducts long before this one.</summary>
    public static DiodeModel Avalanche(double volts) => new()
    {
        SaturationCurrent = 1e-9,
        EmissionCoefficient = 20,
        SeriesResistance = 5,
        BreakdownVoltage = volts,
    };

    /// <summary>High-voltage N-channel MOSFET with a given on resistance at <see cref="GateDrive"/>.</summary>
    public static MosfetModel Switch(double onOhms) => new()
    {
        ThresholdVoltage = Threshold,
        TransconductanceParameter = 1 / (ChannelShare * onOhms * (GateDrive - Threshold)),
        DrainResistance = (1 - ChannelShare) * onOhms,
        BulkSaturationCurrent = 1e-12,
    };

    /// <summary>The clamp's diode without its capacitance and stored charge, for runs of thousands of cycles.</summary>
    public static DiodeModel QuickClamp { get; } = new()
    {
        SaturationCurrent = 1e-9,
        EmissionCoefficient = 1.7,
        SeriesResistance = 0.1,
        BreakdownVoltage = 1100,
    };

    /// <summary>The output rectifier without its capacitance, for runs of thousands of cycles.</summary>
    public static DiodeModel QuickOutput(double seriesOhms) => new()
    {
        SaturationCurrent = 2e-6,
        EmissionCoefficient = 1.04,
        SeriesResistance = seriesOhms,
        EnergyGap = 0.69,
        SaturationExponent = 2,
        BreakdownVoltage = 110,
    };
}
