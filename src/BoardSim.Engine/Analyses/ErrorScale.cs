using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Turns the user's one relative accuracy into a tolerance for each unknown: relative to the largest value that the unknown
/// has shown of late, with an absolute floor per physical quantity.
/// </summary>
internal sealed class ErrorScale
{
    private readonly double[] floor;
    private readonly double[] peak;
    private readonly bool[] isCurrent;

    public ErrorScale(CircuitSystem system)
    {
        floor = new double[system.Size + 1];
        peak = new double[system.Size + 1];
        isCurrent = new bool[system.Size + 1];
        Weight = new double[system.Size + 1];
        foreach (var unknown in system.Unknowns)
        {
            floor[unknown.Index] = Floor(unknown.Kind);
            isCurrent[unknown.Index] = unknown.Kind == UnknownKind.Current;
        }
    }

    /// <summary>Reciprocal tolerance by unknown; element 0 is zero.</summary>
    public double[] Weight { get; }

    /// <summary>Largest branch current of late, in amperes: the scale on which currents at nodes are judged.</summary>
    public double LargestCurrent { get; private set; }

    /// <summary>Value below which an unknown of this kind counts as zero, in its SI unit: 1 mV, 1 uA, 0.1 K, 1e-3.</summary>
    public static double Floor(UnknownKind kind) => kind switch
    {
        UnknownKind.Voltage => 1e-3,
        UnknownKind.Current => 1e-6,
        UnknownKind.Temperature => 0.1,
        _ => 1e-3,
    };

    /// <summary>The peaks that tolerances are relative to; set by a run that goes back to where they were.</summary>
    public double[] Peaks
    {
        get => (double[])peak.Clone();
        set => value.CopyTo(peak, 0);
    }

    /// <summary>Lets peaks fade over a time that is not computed.</summary>
    /// <param name="memory">Part of the former peaks that is remembered, 0..1.</param>
    /// <param name="accuracy">Relative accuracy.</param>
    public void Fade(double memory, double accuracy)
    {
        LargestCurrent = Floor(UnknownKind.Current);
        for (var i = 1; i < peak.Length; i++)
        {
            peak[i] *= memory;
            Weight[i] = 1 / (accuracy * (peak[i] + floor[i]));
            if (isCurrent[i])
            {
                LargestCurrent = Math.Max(LargestCurrent, peak[i]);
            }
        }
    }

    /// <summary>Takes the values of an accepted point and sets the tolerances.</summary>
    /// <param name="x">The unknowns.</param>
    /// <param name="accuracy">Relative accuracy.</param>
    /// <param name="memory">Part of the former peak that is remembered, 0..1.</param>
    public void Update(double[] x, double accuracy, double memory)
    {
        LargestCurrent = Floor(UnknownKind.Current);
        for (var i = 1; i < x.Length; i++)
        {
            peak[i] = Math.Max(Math.Abs(x[i]), peak[i] * memory);
            Weight[i] = 1 / (accuracy * (peak[i] + floor[i]));
            if (isCurrent[i])
            {
                LargestCurrent = Math.Max(LargestCurrent, peak[i]);
            }
        }
    }
}
