namespace BoardSim.Measurement;

/// <summary>What a voltage is measured against. Reading against the wrong one is a classic mistake, so every test point names its own.</summary>
public enum Reference
{
    /// <summary>The low-voltage ground of the board, behind the isolation barrier.</summary>
    BoardGround,

    /// <summary>The negative side of the bridge: connected to the line, not earth.</summary>
    PrimaryReturn,

    /// <summary>The neutral conductor of the supply.</summary>
    Neutral,

    /// <summary>Protective earth.</summary>
    ProtectiveEarth,

    /// <summary>Another point of the circuit, for a voltage across a part.</summary>
    AcrossPart,
}
