namespace BoardSim.Blocks.Transformers;

/// <summary>How the secondary is rectified.</summary>
public enum TransformerRectifier
{
    /// <summary>Four diodes on one winding.</summary>
    Bridge,

    /// <summary>Two diodes on a winding whose middle is the ground.</summary>
    CentreTap,

    /// <summary>One diode on one winding.</summary>
    HalfWave,
}
