namespace BoardSim.Scenarios;

/// <summary>The instrument that an observation is made with.</summary>
public enum InstrumentKind
{
    /// <summary>Nothing connected: the computed value itself.</summary>
    None,

    /// <summary>Oscilloscope with its probe; gives a waveform.</summary>
    Oscilloscope,

    /// <summary>Oscilloscope with a differential probe; gives a waveform.</summary>
    DifferentialProbe,

    /// <summary>Multimeter in DC volts; gives a reading.</summary>
    MultimeterDc,

    /// <summary>Multimeter in AC volts, true RMS; gives a reading.</summary>
    MultimeterAcTrueRms,

    /// <summary>Multimeter in AC volts, average-responding and scaled for a sine; gives a reading.</summary>
    MultimeterAcAverage,

    /// <summary>Multimeter in volts, true RMS with the mean included; gives a reading.</summary>
    MultimeterAcDcTrueRms,

    /// <summary>Multimeter in DC volts with low input impedance; gives a reading.</summary>
    MultimeterLowImpedanceDc,

    /// <summary>Multimeter in AC volts (true RMS) with low input impedance; gives a reading.</summary>
    MultimeterLowImpedanceAc,

    /// <summary>Multimeter that counts frequency; gives a reading in hertz.</summary>
    FrequencyMeter,

    /// <summary>Multimeter that measures duty cycle; gives a reading in per cent.</summary>
    DutyMeter,

    /// <summary>Multimeter in ohms on a board without power; gives a reading in ohms.</summary>
    Ohmmeter,

    /// <summary>Multimeter in diode test on a board without power; gives a reading in volts.</summary>
    DiodeTest,

    /// <summary>ESR meter in circuit on a board without power; gives a reading in ohms.</summary>
    EsrMeter,

    /// <summary>Multimeter in series with a conductor, DC amperes; gives a reading.</summary>
    AmmeterDc,

    /// <summary>Multimeter in series with a conductor, AC amperes, true RMS; gives a reading.</summary>
    AmmeterAcTrueRms,

    /// <summary>Clamp with a current transformer on an oscilloscope; gives a waveform.</summary>
    AcClamp,

    /// <summary>Hall clamp on an oscilloscope; gives a waveform.</summary>
    HallClamp,

    /// <summary>Clamp meter with a current transformer, AC amperes, true RMS; gives a reading.</summary>
    ClampMeterAc,

    /// <summary>Clamp meter with a Hall sensor, DC amperes; gives a reading.</summary>
    ClampMeterDc,

    /// <summary>Clamp meter with a Hall sensor, AC+DC amperes, true RMS; gives a reading.</summary>
    ClampMeterAcDc,
}

/// <summary>What can be said of an instrument by its kind.</summary>
internal static class InstrumentKinds
{
    public static IReadOnlyList<InstrumentKind> Voltmeters { get; } =
    [
        InstrumentKind.MultimeterDc, InstrumentKind.MultimeterAcTrueRms, InstrumentKind.MultimeterAcAverage, InstrumentKind.MultimeterAcDcTrueRms,
        InstrumentKind.MultimeterLowImpedanceDc, InstrumentKind.MultimeterLowImpedanceAc,
    ];

    public static IReadOnlyList<InstrumentKind> Counters { get; } = [InstrumentKind.FrequencyMeter, InstrumentKind.DutyMeter];

    public static IReadOnlyList<InstrumentKind> Testers { get; } = [InstrumentKind.Ohmmeter, InstrumentKind.DiodeTest];

    public static IReadOnlyList<InstrumentKind> Ammeters { get; } = [InstrumentKind.AmmeterDc, InstrumentKind.AmmeterAcTrueRms];

    public static IReadOnlyList<InstrumentKind> HallClamps { get; } = [InstrumentKind.HallClamp, InstrumentKind.ClampMeterDc, InstrumentKind.ClampMeterAcDc];

    public static IReadOnlyList<InstrumentKind> Clamps { get; } = [InstrumentKind.AcClamp, InstrumentKind.ClampMeterAc, .. HallClamps];

    /// <summary>True when it shows a number; the others draw a waveform, or are nothing.</summary>
    public static bool ShowsNumber(this InstrumentKind kind) =>
        kind is not (InstrumentKind.None or InstrumentKind.Oscilloscope or InstrumentKind.DifferentialProbe or InstrumentKind.AcClamp or InstrumentKind.HallClamp);

    /// <summary>True for those that go around a conductor or into it, and not to a point.</summary>
    public static bool IsOfCurrent(this InstrumentKind kind) => Ammeters.Contains(kind) || Clamps.Contains(kind);

    /// <summary>True for those that drive a current of their own through the circuit, and are put on alone.</summary>
    public static bool DrivesCurrent(this InstrumentKind kind) => Testers.Contains(kind) || kind == InstrumentKind.EsrMeter;

    /// <summary>True for those that have nothing to show where nothing changes with time.</summary>
    public static bool NeedsTime(this InstrumentKind kind) => Counters.Contains(kind)
        || kind is InstrumentKind.MultimeterAcTrueRms or InstrumentKind.MultimeterAcAverage or InstrumentKind.MultimeterLowImpedanceAc
            or InstrumentKind.AmmeterAcTrueRms or InstrumentKind.AcClamp or InstrumentKind.ClampMeterAc;
}
