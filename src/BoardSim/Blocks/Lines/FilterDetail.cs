namespace BoardSim.Blocks.Lines;

/// <summary>What of a line filter is computed.</summary>
public enum FilterDetail
{
    /// <summary>All of it: leakage and capacitors ring when a diode lets go or a surge comes.</summary>
    Full,

    /// <summary>What shows at line frequency and its harmonics; the ringing is damped.</summary>
    LineFrequency,
}
