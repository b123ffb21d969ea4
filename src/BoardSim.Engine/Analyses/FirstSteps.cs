namespace BoardSim.Engine.Analyses;

/// <summary>
/// Remembers how long the first step after each kind of discontinuity could be. A kind is the last three causes in their order: the diode that begins to
/// conduct at the crest and the same diode when the line rings ask for steps a hundred times apart. What it says is a hint, which the error
/// estimate checks; a collision of two kinds costs a rejected step.
/// </summary>
internal sealed class FirstSteps
{
    private const int Bits = 12;

    /// <summary>Most that a first step is hoped to be longer the next time.</summary>
    private const double MostHope = 20;

    /// <summary>Growth of a first step from one time to the next: one refused now and then costs less than many that are too short.</summary>
    private const double Growth = 1.5;

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

    /// <summary>What the first step can be hoped to be, in seconds; 0 when the cause is new.</summary>
    public double Present => Growth * (byTrail[Slot] > 0 ? byTrail[Slot] : byCause[cause]);

    private int Slot => (int)(trail * 2654435769u >> (32 - Bits));

    /// <summary>Notes a discontinuity.</summary>
    /// <param name="key">Its cause.</param>
    public void Begin(int key)
    {
        cause = key;
        trail = (trail << 10) ^ (uint)(key + 1);
    }

    /// <summary>Notes how long the first step after it could have been: remembered as it was, a timid one would stay one for ever.</summary>
    /// <param name="step">Its length in seconds.</param>
    /// <param name="longest">What its error would have allowed, in lengths of the step.</param>
    public void Remember(double step, double longest) => byCause[cause] = byTrail[Slot] = step * Math.Clamp(longest, 1, MostHope);
}
