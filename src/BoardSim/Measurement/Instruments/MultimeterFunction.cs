namespace BoardSim.Measurement;

/// <summary>Position of a multimeter's function switch.</summary>
public enum MultimeterFunction
{
    /// <summary>Direct voltage: the mean.</summary>
    DcVolts,

    /// <summary>Alternating voltage, true RMS of what is left without the mean.</summary>
    AcVoltsTrueRms,

    /// <summary>Alternating voltage, mean of the rectified rest without the mean, scaled so that a sine reads its RMS value.</summary>
    AcVoltsAverage,

    /// <summary>Voltage, true RMS with the mean included.</summary>
    AcDcVoltsTrueRms,

    /// <summary>Direct current: the mean.</summary>
    DcAmperes,

    /// <summary>Alternating current, true RMS of what is left without the mean.</summary>
    AcAmperesTrueRms,

    /// <summary>Resistance of a part or an unplugged connector.</summary>
    Ohms,
}
