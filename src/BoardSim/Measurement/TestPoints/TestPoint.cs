namespace BoardSim.Measurement;

/// <summary>A point where a probe can be put, and the point that it is measured against.</summary>
public sealed record TestPoint
{
    /// <summary>Name for people and scenario files: lower case words joined by hyphens, such as <c>bulk</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Node that the red lead touches.</summary>
    public required string Node { get; init; }

    /// <summary>Node that the black lead touches.</summary>
    public required string ReferenceNode { get; init; }

    /// <summary>What the black lead touches, in the trade's word.</summary>
    public required Reference Reference { get; init; }

    /// <summary>Where it is on the board and what a healthy board shows there.</summary>
    public required string Description { get; init; }

    /// <summary>True when the point is connected to the line: touching it can kill.</summary>
    public bool LineSide { get; init; }

    /// <summary>The reference in words, such as <c>primary return</c>; for a voltage across a part the node's name.</summary>
    public string ReferenceName => Reference switch
    {
        Reference.BoardGround => "board ground",
        Reference.PrimaryReturn => "primary return",
        Reference.Neutral => "neutral",
        Reference.ProtectiveEarth => "protective earth",
        _ => ReferenceNode,
    };
}
