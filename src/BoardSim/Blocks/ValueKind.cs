namespace BoardSim.Blocks;

/// <summary>What kind of value a block takes.</summary>
public enum ValueKind
{
    /// <summary>A number with a unit.</summary>
    Quantity,

    /// <summary>One of a few words.</summary>
    Choice,
}
