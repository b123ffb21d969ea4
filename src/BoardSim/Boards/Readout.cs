namespace BoardSim.Boards;

/// <summary>A value that is worked out of the voltage at a pin: the temperature that the board's program looks up in its table, the
/// resistance that an ohmmeter shows for the voltage across its terminals.</summary>
public sealed record Readout
{
    /// <summary>Name for people and scenario files: lower case words joined by hyphens, such as <c>indicated-temperature</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Node of the pin.</summary>
    public required string Node { get; init; }

    /// <summary>Node that the voltage is taken against.</summary>
    public required string ReferenceNode { get; init; }

    /// <summary>Symbol of the result's unit, one of <see cref="Quantities.Unit"/>; a temperature is held in kelvin, as everywhere.</summary>
    public required string Unit { get; init; }

    /// <summary>Who works out what, and how.</summary>
    public required string Description { get; init; }

    /// <summary>From the voltage in volts to the result, as the unit holds it.</summary>
    public required Func<double, double> Convert { get; init; }

    /// <summary>What a perfect board would show, so that an error can be told; null when it is not known.</summary>
    public double? TrueValue { get; init; }
}
