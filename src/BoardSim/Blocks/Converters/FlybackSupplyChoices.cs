namespace BoardSim.Blocks.Converters;

/// <summary>How closely a converter is computed.</summary>
public enum ConverterDetail
{
    /// <summary>Every switching cycle: milliseconds of board time.</summary>
    Switching,

    /// <summary>Averaged over the switching cycle: seconds of board time, and loop gains.</summary>
    Averaged,
}
