using BoardSim.Measurement;

namespace BoardSim.Scenarios.Running;

/// <summary>Instruments as an observation asks for them: as they usually are, but for what is set.</summary>
internal static class Instruments
{
    public static Oscilloscope Scope(ObservationSpec spec)
    {
        var usual = new Oscilloscope();
        var set = spec.Settings;
        var probe = set.IsDirectProbe == true ? ScopeProbe.OneToOne
            : set.TipCapacitance is { } tip ? ScopeProbe.TenToOneOf(new PassiveDivider { TipCapacitance = tip })
            : usual.Probe;
        return usual with
        {
            AcCoupled = spec.AcCoupled,
            Bandwidth = set.Bandwidth ?? usual.Bandwidth,
            Probe = probe,
            SecondsPerDivision = set.TimeBase,
            Trigger = set.TriggerLevel is { } level ? new ScopeTrigger(level, set.TriggerEdge ?? Edge.Rising, set.TriggerPosition ?? 0.1) : null,
        };
    }

    public static DifferentialProbe Differential(ObservationSpec spec)
    {
        var usual = new DifferentialProbe();
        var set = spec.Settings;
        return usual with
        {
            AcCoupled = spec.AcCoupled,
            Bandwidth = set.Bandwidth ?? usual.Bandwidth,
            Rejection = set.Rejection ?? usual.Rejection,
            RejectionCorner = set.RejectionCorner ?? usual.RejectionCorner,
        };
    }

    public static EsrMeter Esr(ObservationSpec spec)
    {
        var usual = new EsrMeter();
        var set = spec.Settings;
        return usual with
        {
            Frequency = set.TestFrequency ?? usual.Frequency,
            Detection = set.Detection ?? usual.Detection,
            Counts = set.Counts ?? usual.Counts,
            Accuracy = Accuracy(usual.Accuracy, set),
        };
    }

    public static CurrentClamp Clamp(ObservationSpec spec)
    {
        var usual = new CurrentClamp();
        var set = spec.Settings;
        return usual with
        {
            Kind = InstrumentKinds.HallClamps.Contains(spec.Instrument) ? ClampKind.Hall : ClampKind.Transformer,
            Function = spec.Instrument switch
            {
                InstrumentKind.ClampMeterDc => ClampFunction.DcAmperes,
                InstrumentKind.ClampMeterAcDc => ClampFunction.AcDcAmperesTrueRms,
                _ => ClampFunction.AcAmperesTrueRms,
            },
            Bandwidth = set.Bandwidth ?? usual.Bandwidth,
            Offset = set.Offset ?? usual.Offset,
            Range = set.Range ?? usual.Range,
            Counts = set.Counts ?? usual.Counts,
            Accuracy = Accuracy(usual.Accuracy, set),
        };
    }

    public static Multimeter Meter(ObservationSpec spec)
    {
        var usual = new Multimeter();
        var set = spec.Settings;
        return usual with
        {
            Function = spec.Instrument switch
            {
                InstrumentKind.MultimeterDc or InstrumentKind.MultimeterLowImpedanceDc => MultimeterFunction.DcVolts,
                InstrumentKind.MultimeterAcTrueRms or InstrumentKind.MultimeterLowImpedanceAc => MultimeterFunction.AcVoltsTrueRms,
                InstrumentKind.MultimeterAcAverage => MultimeterFunction.AcVoltsAverage,
                InstrumentKind.MultimeterAcDcTrueRms => MultimeterFunction.AcDcVoltsTrueRms,
                InstrumentKind.FrequencyMeter => MultimeterFunction.Frequency,
                InstrumentKind.DutyMeter => MultimeterFunction.DutyCycle,
                InstrumentKind.Ohmmeter => MultimeterFunction.Ohms,
                InstrumentKind.DiodeTest => MultimeterFunction.DiodeTest,
                InstrumentKind.AmmeterDc => MultimeterFunction.DcAmperes,
                InstrumentKind.AmmeterAcTrueRms => MultimeterFunction.AcAmperesTrueRms,
                _ => throw new ArgumentOutOfRangeException(nameof(spec), spec.Instrument, "There is no such multimeter."),
            },
            LowImpedance = spec.Instrument is InstrumentKind.MultimeterLowImpedanceDc or InstrumentKind.MultimeterLowImpedanceAc,
            InputResistance = set.InputResistance ?? usual.InputResistance,
            LowInputResistance = set.InputResistance ?? usual.LowInputResistance,
            Burden = set.Burden ?? usual.Burden,
            Bandwidth = set.Bandwidth ?? usual.Bandwidth,
            Counts = set.Counts ?? usual.Counts,
            CounterBandwidth = set.Bandwidth ?? usual.CounterBandwidth,
            CounterThreshold = set.Threshold,
            CounterHysteresis = set.Hysteresis ?? usual.CounterHysteresis,
            OhmsVoltage = set.TestVoltage ?? usual.OhmsVoltage,
            OhmsSeriesResistance = set.TestResistance ?? usual.OhmsSeriesResistance,
            DiodeVoltage = set.TestVoltage ?? usual.DiodeVoltage,
            DiodeSeriesResistance = set.TestResistance ?? usual.DiodeSeriesResistance,
            DcAccuracy = Accuracy(usual.DcAccuracy, set),
            AcAccuracy = Accuracy(usual.AcAccuracy, set),
            OhmsAccuracy = Accuracy(usual.OhmsAccuracy, set),
            HertzAccuracy = Accuracy(usual.HertzAccuracy, set),
            DutyAccuracy = Accuracy(usual.DutyAccuracy, set),
        };
    }

    private static Accuracy Accuracy(Accuracy usual, InstrumentSettings set) =>
        new(set.AccuracyOfReading ?? usual.OfReading, set.AccuracyCounts ?? usual.Counts);
}
