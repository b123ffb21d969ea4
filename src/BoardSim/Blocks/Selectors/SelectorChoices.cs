namespace BoardSim.Blocks.Selectors;

/// <summary>Code of the switches.</summary>
public enum SelectorCode
{
    /// <summary>The position as a binary number.</summary>
    Binary,

    /// <summary>Gray code: one contact changes from one position to the next.</summary>
    Gray,
}

/// <summary>How the processor drives its enable lines.</summary>
public enum EnableDrive
{
    /// <summary>Low for the switch that is read, driven high for the other one.</summary>
    PushPull,

    /// <summary>Low for the switch that is read, let go for the other one.</summary>
    OpenDrain,
}
