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
}
