namespace BoardSim.Reports.Figures;

/// <summary>What a trace stands for; it decides colour, dash, width and marker.</summary>
public enum TraceRole
{
    /// <summary>The board as it should be: calm dark blue, solid.</summary>
    Healthy,

    /// <summary>The board with a fault: vermillion, dashed and wider; further faulty conditions get dashes of their own.</summary>
    Faulty,
}
