namespace BoardSim.Blocks.Motors;

/// <summary>What sets a fan's duty factor.</summary>
public enum SpeedControl
{
    /// <summary>Pulses from outside with a duty factor of their own; the tachometer goes back and nobody here minds it.</summary>
    OpenLoop,

    /// <summary>A small controller of the drive's own that counts the tachometer's pulses.</summary>
    ClosedLoop,
}
