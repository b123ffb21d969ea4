namespace BoardSim.Blocks.Motors;

/// <summary>What the controls do with an H-bridge after a move.</summary>
public enum IdleState
{
    /// <summary>All switches off: the motor runs out by itself.</summary>
    Coast,

    /// <summary>Both sides to the ground: the motor's own current brakes it.</summary>
    Brake,
}
