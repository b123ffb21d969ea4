namespace BoardSim.Blocks;

/// <summary>Where a block is wired to others when it stands on a board: one conductor, between the block's own parts and a net of the board.</summary>
public sealed record Port
{
    /// <summary>Name in board files: lower case words joined by hyphens, such as <c>rail</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Node of the block's bench circuit that the net takes the place of; <c>0</c> for its ground.</summary>
    public required string Node { get; init; }

    /// <summary>What is connected there, and which way power or signal goes.</summary>
    public required string Description { get; init; }

    /// <summary>True when the block works with nothing connected there.</summary>
    public bool IsOptional { get; init; }
}
