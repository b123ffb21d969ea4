namespace BoardSim.Blocks.Converters;

/// <summary>Number of output capacitors in parallel.</summary>
public enum OutputCapacitors
{
    /// <summary>One.</summary>
    One,

    /// <summary>Two: when one ages, the other takes over the ripple current and ages faster.</summary>
    Two,
}

/// <summary>What stands between the output capacitors and the load.</summary>
public enum PostFilter
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>A small choke and a second capacitor.</summary>
    ChokeAndCapacitor,
}
