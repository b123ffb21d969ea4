using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>What an oscilloscope's screen shows, with the readouts that it takes of it.</summary>
public sealed record ScopeCapture
{
    /// <summary>The oscilloscope.</summary>
    public required Oscilloscope Instrument { get; init; }

    /// <summary>The trace, cut off at the edges of the screen. Time zero is the trigger; without one, the waveform's own zero.</summary>
    public required Waveform Trace { get; init; }

    /// <summary>Deflection in the waveform's unit per division.</summary>
    public required double PerDivision { get; init; }

    /// <summary>Value at the middle of the screen in the waveform's unit.</summary>
    public required double Middle { get; init; }

    /// <summary>Seconds per division.</summary>
    public required double SecondsPerDivision { get; init; }

    /// <summary>Instant of the trigger in the waveform's seconds; null without trigger.</summary>
    public required double? TriggerTime { get; init; }

    /// <summary>False when a trigger was set and its level never crossed.</summary>
    public required bool IsTriggered { get; init; }

    /// <summary>True when part of the waveform lies beyond the screen.</summary>
    public required bool IsClipped { get; init; }

    /// <summary>Peak-to-peak readout.</summary>
    public InstrumentReading PeakToPeak => Amplitude("peak to peak", Trace.PeakToPeak());

    /// <summary>Mean readout.</summary>
    public InstrumentReading Mean => Amplitude("mean", Trace.Mean());

    /// <summary>RMS readout, with the mean included unless the coupling keeps it away.</summary>
    public InstrumentReading Rms => Amplitude("RMS", Trace.Rms());

    /// <summary>Frequency readout; no number when there are not two passages upwards on the screen.</summary>
    public InstrumentReading Frequency
    {
        get
        {
            var found = Metrics.Get("frequency").Evaluate(Trace);
            return Blank("frequency", Unit.Hertz) with
            {
                Value = found.HasValue ? found.Value : null,
                Display = found.HasValue ? Quantity.Format(found.Value, Unit.Hertz, 4) : "---",
                Note = found.HasValue ? Remark : found.Reason,
            };
        }
    }

    private string Remark =>
        (IsClipped ? "Part of the waveform lies beyond the screen; the readout is of what is on it." : "")
        + (IsClipped && !IsTriggered ? " " : "")
        + (IsTriggered ? "" : "The trigger level is not crossed; the trace stands anywhere.");

    private InstrumentReading Amplitude(string function, double value)
    {
        var step = PerDivision * Oscilloscope.VerticalDivisions / (1 << Instrument.Bits);
        return Blank(function, Trace.Unit) with
        {
            Value = value,
            Display = Quantity.Format(value, Trace.Unit),
            Uncertainty = Instrument.GainAccuracy * Math.Abs(value) + step,
            Note = Remark,
        };
    }

    private InstrumentReading Blank(string function, Unit unit) => new()
    {
        Instrument = $"{Instrument.Name}, {Instrument.Probe.Name}",
        Function = Instrument.AcCoupled ? $"{function}, AC coupled" : function,
        TestPoint = Trace.Name,
        Value = null,
        Unit = unit,
        Display = "---",
    };
}
