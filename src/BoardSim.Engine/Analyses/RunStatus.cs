namespace BoardSim.Engine.Analyses;

/// <summary>How a run stands.</summary>
public enum RunStatus
{
    /// <summary>Under way.</summary>
    Running,

    /// <summary>Reached its end.</summary>
    Completed,

    /// <summary>Cancelled by the caller; what was computed is valid up to that instant.</summary>
    Cancelled,

    /// <summary>Ended by the wall-clock limit; what was computed is valid up to that instant.</summary>
    TimedOut,

    /// <summary>Ended because the record had grown to its limit; what was computed is valid up to that instant.</summary>
    RecordFull,
}
