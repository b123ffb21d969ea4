namespace BoardSim.Measurement;

/// <summary>Direction of a crossing.</summary>
public enum Edge
{
    /// <summary>From below a level to above it.</summary>
    Rising,

    /// <summary>From above a level to below it.</summary>
    Falling,

    /// <summary>Either direction.</summary>
    Either,
}
