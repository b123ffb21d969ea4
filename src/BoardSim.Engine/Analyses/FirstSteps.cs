namespace BoardSim.Engine.Analyses;

/// <summary>
/// Remembers how long the first step after each kind of discontinuity could be. A kind is the last three causes in their order: the diode that begins to
/// conduct at the crest and the same diode when the line rings ask for steps a hundred times apart. What it says is a hint, which the error
/// estimate checks; a collision of two kinds costs a rejected step.
/// </summary>
internal sealed class FirstSteps
{
    private const int Bits = 12;

    private readonly double[] byCause;
    private readonly double[] byTrail = new double[1 << Bits];
    private int cause;
    private uint trail;

    /// <summary>Prepares an empty memory.</summary>
    /// <param name="causes">Number of causes: guards, sources and one for all else.</param>
    public FirstSteps(int causes)
    {
        byCause = new double[causes];
        cause = causes - 1;
    }

    /// <summary>What the first step of late could be, in seconds; 0 when the cause is new.</summary>
    public double Present => byTrail[Slot] > 0 ? byTrail[Slot] : byCause[cause];

    private int Slot => (int)(trail * 2654435769u >> (32 - Bits));

    /// <summary>Notes a discontinuity.</summary>
    /// <param name="key">Its cause.</param>
    public void Begin(int key)
    {
        cause = key;
        trail = (trail << 10) ^ (uint)(key + 1);
    }

    /// <summary>Notes how long the first step after it could be.</summary>
    /// <param name="step">Length in seconds.</param>
    public void Remember(double step) => byCause[cause] = byTrail[Slot] = step;
}
