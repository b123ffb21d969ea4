namespace BoardSim.Blocks.Relays;

/// <summary>What switches the coil.</summary>
public enum CoilDriver
{
    /// <summary>A small NPN transistor.</summary>
    Npn,

    /// <summary>A Darlington channel: two transistors in one, as in driver arrays.</summary>
    Darlington,

    /// <summary>Nothing: the processor's port feeds the coil itself. It cannot, and the block shows why.</summary>
    None,
}
