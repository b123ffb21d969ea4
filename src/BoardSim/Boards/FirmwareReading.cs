namespace BoardSim.Boards;

/// <summary>What the board's program makes of the voltage at one of its pins: a temperature from a lookup table, say.</summary>
public sealed record FirmwareReading
{
    /// <summary>Name for people and scenario files: lower case words joined by hyphens, such as <c>indicated-temperature</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Node of the pin.</summary>
    public required string Node { get; init; }

    /// <summary>Node that the converter measures against.</summary>
    public required string ReferenceNode { get; init; }

    /// <summary>Unit of the result, such as <c>degC</c>.</summary>
    public required string Unit { get; init; }

    /// <summary>What the program works out, and how.</summary>
    public required string Description { get; init; }

    /// <summary>From the voltage at the pin in volts to the program's result in <see cref="Unit"/>.</summary>
    public required Func<double, double> Convert { get; init; }

    /// <summary>What an ideal board would indicate, in <see cref="Unit"/>, so that an error can be told; null when it is not known.</summary>
    public double? TrueValue { get; init; }
}
