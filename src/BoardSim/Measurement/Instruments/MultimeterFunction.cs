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

    /// <summary>Frequency of a voltage: passages through the threshold, counted.</summary>
    Frequency,

    /// <summary>Share of its period that a voltage spends above the threshold.</summary>
    DutyCycle,

    /// <summary>Direct current: the mean.</summary>
    DcAmperes,

    /// <summary>Alternating current, true RMS of what is left without the mean.</summary>
    AcAmperesTrueRms,

    /// <summary>Resistance of a part, of an unplugged connector or of a board without power.</summary>
    Ohms,

    /// <summary>Voltage across a junction that the meter drives about a milliampere through.</summary>
    DiodeTest,
}
