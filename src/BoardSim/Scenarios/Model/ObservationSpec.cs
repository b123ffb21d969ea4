namespace BoardSim.Scenarios;

/// <summary>The instrument that an observation is made with.</summary>
public enum InstrumentKind
{
    /// <summary>Nothing connected: the computed value itself. For currents this is the only choice.</summary>
    None,

    /// <summary>Oscilloscope with its probe; gives a waveform.</summary>
    Oscilloscope,

    /// <summary>Multimeter in DC volts; gives a reading.</summary>
    MultimeterDc,

    /// <summary>Multimeter in AC volts, true RMS; gives a reading.</summary>
    MultimeterAcTrueRms,

    /// <summary>Multimeter in AC volts, average-responding and scaled for a sine; gives a reading.</summary>
    MultimeterAcAverage,

    /// <summary>Multimeter in DC volts with low input impedance; gives a reading.</summary>
    MultimeterLowImpedanceDc,

    /// <summary>Multimeter in AC volts (true RMS) with low input impedance; gives a reading.</summary>
    MultimeterLowImpedanceAc,
}

/// <summary>What is shown of a readout or of a response.</summary>
public enum Aspect
{
    /// <summary>What is usual: the value itself; of a response its level when it is a plain ratio, its magnitude otherwise.</summary>
    Usual,

    /// <summary>Of a readout: what is shown.</summary>
    Value,

    /// <summary>Of a readout: what is shown less what a perfect board would show.</summary>
    Error,

    /// <summary>Of a response: its magnitude.</summary>
    Magnitude,

    /// <summary>Of a response: twenty times the decimal logarithm of its magnitude.</summary>
    Level,

    /// <summary>Of a response: its phase.</summary>
    Phase,
}

/// <summary>One thing that is looked at: a test point against a reference, a current, or a readout.</summary>
public sealed record ObservationSpec
{
    /// <summary>Name, lower case with hyphens, unique among observations and metrics.</summary>
    public required string Name { get; init; }

    /// <summary>What figures and tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>Name of the test point; null when a current is observed.</summary>
    public string? TestPoint { get; init; }

    /// <summary>Name of the test point or reference (such as <c>neutral</c>) that is measured against instead of the point's own reference (wrong on purpose, as a rule);
    /// null for the point's own reference.</summary>
    public string? Against { get; init; }

    /// <summary>Name of the current; null when a test point is observed.</summary>
    public string? Current { get; init; }

    /// <summary>Name of a readout of the board (what its program or an ohmmeter works out of a voltage); null when a test point or a current is observed.</summary>
    public string? Readout { get; init; }

    /// <summary>Name of a state of a part (a temperature, a speed); null when something else is observed.</summary>
    public string? State { get; init; }

    /// <summary>What is shown of a readout or of a response.</summary>
    public Aspect Shows { get; init; }

    /// <summary>True when the error of a readout is observed: what it shows less what a perfect board would show.</summary>
    public bool ShowsError => Shows == Aspect.Error;

    /// <summary>Name of the test point that a response is divided by; null when it is divided by no voltage.</summary>
    public string? PerPoint { get; init; }

    /// <summary>Name of the current that a response is divided by; null when it is divided by none.</summary>
    public string? PerCurrent { get; init; }

    /// <summary>The instrument.</summary>
    public InstrumentKind Instrument { get; init; }

    /// <summary>True when an oscilloscope is AC coupled.</summary>
    public bool AcCoupled { get; init; }

    /// <summary>Window that a reading is taken over.</summary>
    public WindowSpec Window { get; init; } = WindowSpec.Whole;

    /// <summary>True when the observation gives a number as well: what a meter shows, a readout, anything at an operating point.</summary>
    /// <param name="run">What is computed.</param>
    public bool GivesReading(RunKind run) =>
        run != RunKind.FrequencyResponse && (run == RunKind.OperatingPoint || Readout is not null || Instrument is not (InstrumentKind.None or InstrumentKind.Oscilloscope));
}
