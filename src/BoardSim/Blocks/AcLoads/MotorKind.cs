namespace BoardSim.Blocks.AcLoads;

/// <summary>How a single-phase motor gets the second phase that it starts with.</summary>
public enum MotorKind
{
    /// <summary>A capacitor in series with the start winding, for good: small fans and pumps.</summary>
    CapacitorRun,

    /// <summary>A start winding of thin wire, whose resistance makes the phase; a start relay takes it off at speed.</summary>
    SplitPhase,

    /// <summary>As split-phase, with a capacitor in the start path, for a high starting torque.</summary>
    CapacitorStart,
}
