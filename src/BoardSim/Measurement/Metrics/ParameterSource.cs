namespace BoardSim.Measurement;

/// <summary>Where a metric's parameter comes from when it is not given.</summary>
public enum ParameterSource
{
    /// <summary>It must be given.</summary>
    Required,

    /// <summary>A fixed default.</summary>
    Default,

    /// <summary>The metric finds it in the waveform.</summary>
    Derived,

    /// <summary>Frequency of the mains.</summary>
    LineFrequency,

    /// <summary>Switching frequency of the converter.</summary>
    SwitchingFrequency,
}
