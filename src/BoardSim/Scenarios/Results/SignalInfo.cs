namespace BoardSim.Scenarios;

/// <summary>What an observation is, for titles, legends and column heads.</summary>
public sealed record SignalInfo
{
    /// <summary>Name of the observation.</summary>
    public required string Name { get; init; }

    /// <summary>What figures and tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>Symbol of the unit: <c>V</c>, <c>A</c>, or that of a readout.</summary>
    public required string Unit { get; init; }

    /// <summary>Name of the test point, current or readout.</summary>
    public required string Point { get; init; }

    /// <summary>What the point is, from the block.</summary>
    public required string PointDescription { get; init; }

    /// <summary>Name of what it is measured against; empty for a current.</summary>
    public required string Reference { get; init; }

    /// <summary>True when the reference is not the one that belongs to the test point.</summary>
    public bool IsWrongReference { get; init; }

    /// <summary>Name of the instrument, such as <c>oscilloscope, 10 Mohm probe</c>; <c>computed</c> when nothing is connected.</summary>
    public required string Instrument { get; init; }

    /// <summary>True when the observation gives a reading on top of its waveform.</summary>
    public bool IsReading { get; init; }
}

/// <summary>The waveform of an observation.</summary>
/// <param name="Signal">What it is.</param>
/// <param name="Times">Instants in seconds (frequencies in hertz for a frequency response), not falling; the same instant twice marks a jump (left and right value).</param>
/// <param name="Values">Values as numbers before the unit's symbol, as many as instants.</param>
public sealed record SignalTrace(SignalInfo Signal, double[] Times, double[] Values);
