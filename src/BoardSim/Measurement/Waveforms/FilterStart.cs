namespace BoardSim.Measurement;

/// <summary>State of a filter at the start of a waveform.</summary>
public enum FilterStart
{
    /// <summary>Settled on the first value: what came before was constant. For switching on and other single events.</summary>
    FirstValue,

    /// <summary>Settled on the waveform as one period of an endless repetition. For readings over whole cycles of a steady state.</summary>
    Periodic,
}
