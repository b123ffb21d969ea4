namespace BoardSim.Blocks.Rectifiers;

/// <summary>How a diode's current follows from its voltage.</summary>
public enum DiodeLaw
{
    /// <summary>Exponential, with series resistance, junction capacitance and breakdown.</summary>
    Junction,

    /// <summary>Threshold voltage and slope resistance (IEC 60747-2); the instants of conduction are located.</summary>
    Threshold,
}
