using BoardSim.Measurement;
using BoardSim.Quantities;
using Kind = BoardSim.Scenarios.InstrumentKind;

namespace BoardSim.Scenarios.Format;

/// <summary>A key of an instrument's settings, and the instruments that have it.</summary>
/// <param name="Field">The key.</param>
/// <param name="Instruments">The instruments.</param>
internal sealed record InstrumentField(Field Field, params IReadOnlyList<InstrumentKind> Instruments);

/// <summary>The keys of an instrument's settings.</summary>
internal static class InstrumentFormat
{
    public static IReadOnlyList<Word<bool>> Probe { get; } =
    [
        new("10x", false, "10:1 probe, 10 Mohm, its compensation set by the trimmer in its tip"),
        new("1x", true, "1:1 probe, 1 Mohm and the whole cable's capacitance, 8 MHz"),
    ];

    public static IReadOnlyList<Word<bool>> Clip { get; } =
    [
        new("floating", false, "an isolated oscilloscope, or one on batteries: the clip is tied to nothing but where it is put"),
        new("earthed", true, "a mains-powered oscilloscope: the clip ties where it is put to protective earth"),
    ];

    public static IReadOnlyList<Word<Edge>> Slope { get; } =
    [
        new("rising", Edge.Rising, "from below the level"),
        new("falling", Edge.Falling, "from above the level"),
    ];

    public static IReadOnlyList<Word<EsrDetection>> Detection { get; } =
    [
        new("in-phase", EsrDetection.InPhase, "the resistance"),
        new("magnitude", EsrDetection.Magnitude, "resistance and reactance together, as simple meters do"),
    ];

    /// <summary>All keys with their instruments.</summary>
    public static IReadOnlyList<InstrumentField> Keys { get; } =
    [
        new(
            new Field("bandwidth", new QuantityType(Unit.Hertz, 1, 1e12), "Frequency of 3 dB loss, one pole."),
            [Kind.Oscilloscope, Kind.DifferentialProbe, Kind.MultimeterAcTrueRms, Kind.MultimeterAcAverage, Kind.MultimeterAcDcTrueRms, Kind.MultimeterLowImpedanceAc, Kind.AmmeterAcTrueRms, .. InstrumentKinds.Counters, .. InstrumentKinds.Clamps]),
        new(
            new Field("counts", new CountType(100, 100_000_000), "Counts of the display; 6000 of a multimeter, 4000 of a clamp, 1000 of an ESR meter."),
            [.. InstrumentKinds.Voltmeters, Kind.FrequencyMeter, .. InstrumentKinds.Testers, Kind.EsrMeter, .. InstrumentKinds.Ammeters, Kind.ClampMeterAc, Kind.ClampMeterDc, Kind.ClampMeterAcDc]),
        new(
            new Field("accuracy-of-reading", new QuantityType(Unit.Ratio, 0, 0.5), "Accuracy as a share of the reading, such as 0.5 %."),
            [.. InstrumentKinds.Voltmeters, .. InstrumentKinds.Counters, .. InstrumentKinds.Testers, Kind.EsrMeter, .. InstrumentKinds.Ammeters, Kind.ClampMeterAc, Kind.ClampMeterDc, Kind.ClampMeterAcDc]),
        new(
            new Field("accuracy-counts", new CountType(0, 1000), "Accuracy in counts of the last digit, beside that."),
            [.. InstrumentKinds.Voltmeters, .. InstrumentKinds.Counters, .. InstrumentKinds.Testers, Kind.EsrMeter, .. InstrumentKinds.Ammeters, Kind.ClampMeterAc, Kind.ClampMeterDc, Kind.ClampMeterAcDc]),
        new(
            new Field("input-resistance", new QuantityType(Unit.Ohm, 100, 1e12), "Input resistance: 10 Mohm, or 3 kohm of the low-impedance ranges."),
            [.. InstrumentKinds.Voltmeters, .. InstrumentKinds.Counters]),
        new(new Field("threshold", new QuantityType(Unit.Volt, -1000, 1000), "Level that counts; the mean, by AC coupling, without it."), InstrumentKinds.Counters),
        new(new Field("hysteresis", new QuantityType(Unit.Volt, 0, 100), "How far the voltage has to go beyond the level on both sides; 50 mV without it."), InstrumentKinds.Counters),
        new(new Field("test-voltage", new QuantityType(Unit.Volt, 0.01, 20), "Voltage at the open leads; 0.5 V of the ohmmeter, 3 V of the diode test."), InstrumentKinds.Testers),
        new(new Field("test-resistance", new QuantityType(Unit.Ohm, 1, 1e9), "Resistance behind which it lies; 10 kohm of the ohmmeter, 2.4 kohm of the diode test."), InstrumentKinds.Testers),
        new(new Field("test-frequency", new QuantityType(Unit.Hertz, 10, 10e6), "Frequency of the test current; 100 kHz without it."), Kind.EsrMeter),
        new(new Field("detection", new ChoiceType([.. Detection.Select(w => new Word(w.Name, w.Description))]), "What is shown of the impedance; in-phase without it."), Kind.EsrMeter),
        new(
            new Field("connect-at", new QuantityType(Unit.Second, 0, 1e4, Above: true), "When the lead, or the earthed clip, is put on; it is on from the start without it."),
            [Kind.Oscilloscope, .. InstrumentKinds.Voltmeters, .. InstrumentKinds.Counters, .. InstrumentKinds.Testers]),
        new(
            new Field("disconnect-at", new QuantityType(Unit.Second, 0, 1e4, Above: true), "When the lead that was put on with connect-at is taken off again, so that one meter does not load what the next one reads; it stays on without it."),
            [.. InstrumentKinds.Voltmeters, .. InstrumentKinds.Counters]),
        new(new Field("probe", new ChoiceType([.. Probe.Select(w => new Word(w.Name, w.Description))]), "The probe; 10x without it."), Kind.Oscilloscope),
        new(new Field("tip-capacitance", new QuantityType(Unit.Farad, 0, 1e-9), "Capacitance in the tip of the 10x probe, as its trimmer is set; the right one, 12 pF, without it."), Kind.Oscilloscope),
        new(new Field("clip", new ChoiceType([.. Clip.Select(w => new Word(w.Name, w.Description))]), "What the reference clip is tied to; floating without it."), Kind.Oscilloscope),
        new(new Field("clip-resistance", new QuantityType(Unit.Ohm, 1e-3, 1e9), "Resistance from an earthed clip to protective earth; 0.2 ohm without it."), Kind.Oscilloscope),
        new(new Field("trigger", new QuantityType(Unit.Volt, -1e4, 1e4), "Level of the trigger: only one screen from there on is drawn, and the instant becomes a reading."), Kind.Oscilloscope),
        new(new Field("slope", new ChoiceType([.. Slope.Select(w => new Word(w.Name, w.Description))]), "Direction of the trigger; rising without it."), Kind.Oscilloscope),
        new(new Field("position", new QuantityType(Unit.Ratio, 0, 1), "Share of the screen before the trigger; 0.1 without it."), Kind.Oscilloscope),
        new(new Field("time-base", new QuantityType(Unit.Second, 1e-9, 1e3), "Time per division of a triggered trace, ten of which are a screen."), Kind.Oscilloscope),
        new(new Field("rejection", new QuantityType(Unit.Decibel, 0, 160), "Common-mode rejection at line frequency; 80 dB without it."), Kind.DifferentialProbe),
        new(new Field("rejection-corner", new QuantityType(Unit.Hertz, 1, 1e9), "Frequency from which the rejection falls by 20 dB per decade; 3 kHz without it."), Kind.DifferentialProbe),
        new(new Field("offset", new QuantityType(Unit.Ampere, -1000, 1000), "What the clamp shows without current, when nobody has zeroed it."), InstrumentKinds.HallClamps),
        new(new Field("range", new QuantityType(Unit.Ampere, 1e-3, 1e5), "Largest current that the clamp takes; 40 A without it."), InstrumentKinds.Clamps),
        new(new Field("burden", new QuantityType(Unit.Ohm, 1e-6, 1e6), "Resistance of the shunt; 10 mohm without it."), InstrumentKinds.Ammeters),
    ];

    public static FieldSet Settings { get; } = new("mapping of settings", [.. Keys.Select(k => k.Field)]);
}
