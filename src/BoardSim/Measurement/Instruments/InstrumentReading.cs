using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>What an instrument shows, and what it was measured with, where and against what.</summary>
public sealed record InstrumentReading
{
    /// <summary>The instrument, such as <c>multimeter</c>.</summary>
    public required string Instrument { get; init; }

    /// <summary>The function or readout, such as <c>AC volts, true RMS</c>.</summary>
    public required string Function { get; init; }

    /// <summary>Name of the test point, or of the waveform when none was given.</summary>
    public required string TestPoint { get; init; }

    /// <summary>What the reference lead lay on; empty for a current.</summary>
    public string Reference { get; init; } = "";

    /// <summary>The value in SI units, rounded to the display; null when the display shows no number.</summary>
    public required double? Value { get; init; }

    /// <summary>Unit of the value.</summary>
    public required Unit Unit { get; init; }

    /// <summary>What the display shows, such as <c>161.2 V</c> or <c>OL</c>.</summary>
    public required string Display { get; init; }

    /// <summary>Half width in SI units of the interval that the instrument's specification warrants about the reading; 0 without a number.</summary>
    public double Uncertainty { get; init; }

    /// <summary>True when the input is beyond what the instrument can show.</summary>
    public bool IsOverload { get; init; }

    /// <summary>What the reader of the display should know; empty when there is nothing.</summary>
    public string Note { get; init; } = "";

    /// <summary>The reading at a test point, with its name and reference.</summary>
    /// <param name="point">The test point.</param>
    public InstrumentReading At(TestPoint point)
    {
        ArgumentNullException.ThrowIfNull(point);
        return this with { TestPoint = point.Name, Reference = point.ReferenceName };
    }

    /// <inheritdoc/>
    public override string ToString() => $"{TestPoint}{(Reference.Length > 0 ? $" against {Reference}" : "")}: {Display} ({Instrument}, {Function})";
}
