namespace BoardSim.Measurement;

/// <summary>How the values of parts scatter within their tolerance.</summary>
public enum Scatter
{
    /// <summary>Every value within the tolerance is as likely as any other.</summary>
    Uniform,

    /// <summary>Normal, with the tolerance at three standard deviations, and nothing beyond it.</summary>
    Normal,
}
