namespace BoardSim.Blocks.Lines;

/// <summary>Noise that a bench puts behind a line filter.</summary>
public enum NoiseKind
{
    /// <summary>None: the bench is an outlet.</summary>
    None,

    /// <summary>Both conductors together against protective earth.</summary>
    CommonMode,

    /// <summary>One conductor against the other.</summary>
    DifferentialMode,
}
