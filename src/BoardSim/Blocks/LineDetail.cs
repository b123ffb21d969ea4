namespace BoardSim.Blocks;

/// <summary>What of the mains is computed.</summary>
public enum LineDetail
{
    /// <summary>Its sine, instant by instant.</summary>
    Waveform,

    /// <summary>Its RMS value, as if it were a direct voltage: the same heat in resistances, and steps as long as temperatures allow.</summary>
    Rms,
}
