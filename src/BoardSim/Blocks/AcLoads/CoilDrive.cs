namespace BoardSim.Blocks.AcLoads;

/// <summary>What puts a relay's coil on its voltage.</summary>
public enum CoilDrive
{
    /// <summary>Whatever is wired to the coil: a rail, a switch, another board.</summary>
    Direct,

    /// <summary>A small NPN transistor of the block's own between coil and ground, whose base resistor a processor's output feeds.</summary>
    Transistor,
}
