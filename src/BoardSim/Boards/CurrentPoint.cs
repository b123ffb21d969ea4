using BoardSim.Ageing;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Boards;

/// <summary>A place where a current clamp can be put: the current through a part, counted into its first terminal.</summary>
public sealed record CurrentPoint
{
    /// <summary>Name for people and scenario files: lower case words joined by hyphens, such as <c>line</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Part of the circuit whose current is read; the part reports its own current.</summary>
    public required string Part { get; init; }

    /// <summary>Which current it is, its direction, and what a healthy board shows.</summary>
    public required string Description { get; init; }

    /// <summary>True when the conductor is connected to the line: putting a clamp around it is work on a live circuit.</summary>
    public bool LineSide { get; init; }

    /// <summary>For the current of an electrolytic capacitor, its rating when new; null for any other current.</summary>
    public ElectrolyticRating? Capacitor { get; init; }

    /// <summary>The rating with the series resistance that the part has now, be it aged; null when the part is no capacitor, or none any more.</summary>
    /// <param name="circuit">The circuit that the part is in; its resistance there is that at the rating's ambient temperature.</param>
    public ElectrolyticRating? CapacitorIn(Circuit circuit)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        return Capacitor is { } rating && circuit.Find(Part) is Capacitor part
            ? rating with { SeriesResistance = part.SeriesResistance / ElectrolyticResistance.Factor(rating.Ambient) }
            : null;
    }
}
