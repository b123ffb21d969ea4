namespace BoardSim.Blocks.AcLoads;

/// <summary>What a contact does with the current that it parts.</summary>
public enum ContactArc
{
    /// <summary>Breaks it at once.</summary>
    None,

    /// <summary>Draws an arc with a voltage of its own, which burns until the current is near its next zero.</summary>
    Burns,
}
