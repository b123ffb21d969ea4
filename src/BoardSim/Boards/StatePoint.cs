namespace BoardSim.Boards;

/// <summary>A state of a part that nobody can probe but that tells what goes on: a temperature, a speed, an armature's position, a count of resets.</summary>
public sealed record StatePoint
{
    /// <summary>Name for people and scenario files: lower case words joined by hyphens, such as <c>limiter-temperature</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Part of the circuit that has the state.</summary>
    public required string Part { get; init; }

    /// <summary>Name of the state at the part, such as <c>temperature</c>.</summary>
    public required string State { get; init; }

    /// <summary>Symbol of the unit, one of <see cref="Quantities.Unit"/>; empty for a plain number.</summary>
    public required string Unit { get; init; }

    /// <summary>What it is and what a healthy board shows.</summary>
    public required string Description { get; init; }
}
