namespace BoardSim.Blocks.SerialLinks;

/// <summary>Which of the two boards sends.</summary>
public enum SendingBoard
{
    /// <summary>The panel sends and the controller reads: a lifted panel ground lifts the lows.</summary>
    Panel,

    /// <summary>The controller sends and the panel reads: a lifted panel ground takes from the highs.</summary>
    Controller,
}

/// <summary>Parity bit of the frames.</summary>
public enum ParityBit
{
    /// <summary>No parity bit.</summary>
    None,

    /// <summary>Even number of ones.</summary>
    Even,

    /// <summary>Odd number of ones.</summary>
    Odd,
}
