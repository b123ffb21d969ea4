using BoardSim.Measurement;

namespace BoardSim.Scenarios.Format;

/// <summary>A word of the format, what it stands for in the model, and what it means.</summary>
internal sealed record Word<T>(string Name, T Value, string Description);

/// <summary>The words that choices of the format are made from.</summary>
internal static class Words
{
    public static IReadOnlyList<Word<RunKind>> Computation { get; } =
    [
        new("waveforms", RunKind.Transient, "voltages and currents over time"),
        new("operating-point", RunKind.OperatingPoint, "the circuit at rest, one value per point"),
        new("frequency-response", RunKind.FrequencyResponse, "how the circuit, linearised at rest, answers its small-signal sources over frequency"),
    ];

    public static IReadOnlyList<Word<bool>> Power { get; } =
    [
        new("on", false, "plugged in"),
        new("off", true, "unplugged: the leads of its supply hang open, for ohmmeter, diode test and ESR meter"),
    ];

    public static IReadOnlyList<Word<RunStart>> Start { get; } =
    [
        new("switch-on", RunStart.SwitchOn, "everything discharged but for what the block says otherwise"),
        new("settled", RunStart.Settled, "from the operating point at time zero"),
        new("periodic", RunStart.Periodic, "from the periodic steady state, which is searched for: nothing has to settle"),
    ];

    public static IReadOnlyList<Word<bool>> AlikePeriods { get; } =
    [
        new("compute", false, "every period is computed"),
        new("leap", true, "where they change slowly, most are leapt over and their waveforms interpolated"),
    ];

    public static IReadOnlyList<Word<InstrumentKind>> Instrument { get; } =
    [
        new("none", InstrumentKind.None, "nothing is connected: the computed value itself"),
        new("oscilloscope", InstrumentKind.Oscilloscope, "with its probe"),
        new("differential-probe", InstrumentKind.DifferentialProbe, "differential probe on an oscilloscope, neither lead tied to earth"),
        new("dc-voltmeter", InstrumentKind.MultimeterDc, "multimeter in DC volts, high input resistance"),
        new("ac-voltmeter-true-rms", InstrumentKind.MultimeterAcTrueRms, "multimeter in AC volts, true RMS of the alternating part"),
        new("ac-voltmeter-average", InstrumentKind.MultimeterAcAverage, "multimeter in AC volts, average-responding, scaled for a sine"),
        new("ac-dc-voltmeter-true-rms", InstrumentKind.MultimeterAcDcTrueRms, "multimeter in AC+DC volts, true RMS with the mean included"),
        new("low-impedance-dc-voltmeter", InstrumentKind.MultimeterLowImpedanceDc, "multimeter in DC volts, low input resistance"),
        new("low-impedance-ac-voltmeter", InstrumentKind.MultimeterLowImpedanceAc, "multimeter in AC volts, true RMS, low input resistance"),
        new("frequency-meter", InstrumentKind.FrequencyMeter, "multimeter that counts frequency"),
        new("duty-meter", InstrumentKind.DutyMeter, "multimeter that measures duty cycle"),
        new("ohmmeter", InstrumentKind.Ohmmeter, "multimeter in ohms, on a board without power"),
        new("diode-test", InstrumentKind.DiodeTest, "multimeter in diode test, on a board without power"),
        new("esr-meter", InstrumentKind.EsrMeter, "ESR meter at 100 kHz in circuit, on a board without power"),
        new("dc-ammeter", InstrumentKind.AmmeterDc, "of a current: multimeter in DC amperes, in series"),
        new("ac-ammeter-true-rms", InstrumentKind.AmmeterAcTrueRms, "of a current: multimeter in AC amperes, true RMS, in series"),
        new("ac-clamp", InstrumentKind.AcClamp, "of a current: clamp with a current transformer on an oscilloscope"),
        new("hall-clamp", InstrumentKind.HallClamp, "of a current: Hall clamp on an oscilloscope"),
        new("ac-clamp-meter-true-rms", InstrumentKind.ClampMeterAc, "of a current: clamp meter with a current transformer, AC amperes, true RMS"),
        new("dc-clamp-meter", InstrumentKind.ClampMeterDc, "of a current: Hall clamp meter, DC amperes"),
        new("ac-dc-clamp-meter-true-rms", InstrumentKind.ClampMeterAcDc, "of a current: Hall clamp meter, AC+DC amperes, true RMS"),
    ];

    public static IReadOnlyList<Word<bool>> Coupling { get; } =
    [
        new("dc", false, "all of the signal"),
        new("ac", true, "without its mean"),
    ];

    public static IReadOnlyList<Word<Aspect>> Shown { get; } =
    [
        new("value", Aspect.Value, "of a readout: what is shown"),
        new("error", Aspect.Error, "of a readout: what is shown less what a perfect board would show"),
        new("magnitude", Aspect.Magnitude, "of a frequency response: its magnitude"),
        new("level", Aspect.Level, "of a frequency response: 20 lg of its magnitude, in decibels"),
        new("phase", Aspect.Phase, "of a frequency response: its phase, without jumps along the frequency"),
    ];

    public static IReadOnlyList<Word<bool>> Spacing { get; } =
    [
        new("linear", false, "equal steps"),
        new("logarithmic", true, "equal ratios"),
    ];

    public static IReadOnlyList<Word<Scatter>> Scatter { get; } =
    [
        new("uniform", Measurement.Scatter.Uniform, "every value within the tolerance is as likely as any other"),
        new("normal", Measurement.Scatter.Normal, "the tolerance is three standard deviations, and nothing lies beyond it"),
    ];

    public static IReadOnlyList<Word<bool>> Corners { get; } =
    [
        new("none", false, "no corners"),
        new("all", true, "every combination of the ends of the tolerances"),
    ];

    public static IReadOnlyList<Word<FigureKind>> Figure { get; } =
    [
        new("waveforms", FigureKind.Waveforms, "observations over time, all conditions on the same axes"),
        new("response", FigureKind.Response, "observations over frequency, all conditions on the same axes"),
        new("sweep", FigureKind.Sweep, "recorded metrics over the swept quantity, one line per condition"),
        new("bars", FigureKind.Bars, "metrics or readings side by side, one bar per condition"),
        new("histogram", FigureKind.Histogram, "how a recorded number scatters over the boards of the tolerance run, one outline per condition"),
    ];
}
