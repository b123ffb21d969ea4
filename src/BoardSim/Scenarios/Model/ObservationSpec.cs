using BoardSim.Quantities;

namespace BoardSim.Scenarios;

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

    /// <summary>What is set at the instrument beside that; nothing set is the instrument as it usually is.</summary>
    public InstrumentSettings Settings { get; init; } = InstrumentSettings.Usual;

    /// <summary>Window that a reading is taken over.</summary>
    public WindowSpec Window { get; init; } = WindowSpec.Whole;

    /// <summary>True when the observation gives a number as well: what a meter shows, when an oscilloscope triggers, a readout, anything at an operating point.</summary>
    /// <param name="run">What is computed.</param>
    public bool GivesReading(RunKind run) =>
        run != RunKind.FrequencyResponse && (run == RunKind.OperatingPoint || Readout is not null || Instrument.ShowsNumber() || Settings.TriggerLevel is not null);

    /// <summary>Unit of the number that the instrument shows; of an oscilloscope, of the instant at which it triggers.</summary>
    internal Unit ReadingUnit() => Instrument switch
    {
        InstrumentKind.Oscilloscope when Settings.TriggerLevel is not null => Unit.Second,
        InstrumentKind.FrequencyMeter => Unit.Hertz,
        InstrumentKind.DutyMeter => Unit.Percent,
        InstrumentKind.Ohmmeter or InstrumentKind.EsrMeter => Unit.Ohm,
        _ => Instrument.IsOfCurrent() ? Unit.Ampere : Unit.Volt,
    };
}
