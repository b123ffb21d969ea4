using BoardSim.Measurement;

namespace BoardSim.Scenarios;

/// <summary>What is set at an instrument, or what kind of specimen it is; null leaves it as it usually is.</summary>
public sealed record InstrumentSettings
{
    /// <summary>Nothing set.</summary>
    public static InstrumentSettings Usual { get; } = new();

    /// <summary>Frequency of 3 dB loss in hertz.</summary>
    public double? Bandwidth { get; init; }

    /// <summary>Counts of the display.</summary>
    public int? Counts { get; init; }

    /// <summary>Accuracy as a share of the reading.</summary>
    public double? AccuracyOfReading { get; init; }

    /// <summary>Accuracy in counts of the last digit.</summary>
    public int? AccuracyCounts { get; init; }

    /// <summary>Input resistance of a voltmeter in ohms, of the range that is used.</summary>
    public double? InputResistance { get; init; }

    /// <summary>Level in volts at which frequency and duty count.</summary>
    public double? Threshold { get; init; }

    /// <summary>Half of the counter's hysteresis in volts.</summary>
    public double? Hysteresis { get; init; }

    /// <summary>Voltage at the open leads of ohms or diode test in volts.</summary>
    public double? TestVoltage { get; init; }

    /// <summary>Resistance behind which it lies in ohms.</summary>
    public double? TestResistance { get; init; }

    /// <summary>Frequency of an ESR meter in hertz.</summary>
    public double? TestFrequency { get; init; }

    /// <summary>What an ESR meter shows.</summary>
    public EsrDetection? Detection { get; init; }

    /// <summary>Instant in seconds when lead or clip is put on.</summary>
    public double? ConnectAt { get; init; }

    /// <summary>Instant in seconds when the lead is taken off again; null when it stays.</summary>
    public double? DisconnectAt { get; init; }

    /// <summary>True for a 1:1 probe.</summary>
    public bool? IsDirectProbe { get; init; }

    /// <summary>Capacitance in the tip of a 10:1 probe in farads, as its trimmer is set.</summary>
    public double? TipCapacitance { get; init; }

    /// <summary>True when the oscilloscope's clip is bonded to protective earth.</summary>
    public bool? IsClipEarthed { get; init; }

    /// <summary>Resistance from an earthed clip to earth in ohms.</summary>
    public double? ClipResistance { get; init; }

    /// <summary>Level in volts at which an oscilloscope triggers; null when it does not.</summary>
    public double? TriggerLevel { get; init; }

    /// <summary>Direction of the trigger.</summary>
    public Edge? TriggerEdge { get; init; }

    /// <summary>Share of the screen before the trigger.</summary>
    public double? TriggerPosition { get; init; }

    /// <summary>Seconds per division of the screen.</summary>
    public double? TimeBase { get; init; }

    /// <summary>Common-mode rejection of a differential probe in decibels.</summary>
    public double? Rejection { get; init; }

    /// <summary>Frequency in hertz beyond which it falls.</summary>
    public double? RejectionCorner { get; init; }

    /// <summary>What a Hall clamp shows without current, in amperes.</summary>
    public double? Offset { get; init; }

    /// <summary>Largest current of a clamp in amperes.</summary>
    public double? Range { get; init; }

    /// <summary>Shunt of an ammeter in ohms.</summary>
    public double? Burden { get; init; }
}
