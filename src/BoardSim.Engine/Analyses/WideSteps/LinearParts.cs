using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>
/// Recognises the linear part that a circuit has at present among those that it had before, so that what was worked out for a
/// switch position serves again when the switch comes back to it.
/// </summary>
internal sealed class LinearParts(CircuitSystem system)
{
    // A board has a handful of switch positions that come again and again; a sweep of a parameter makes new ones without end.
    private const int Most = 32;

    private readonly List<(double[] G, double[] C)> known = [];
    private int present = -1;

    /// <summary>Number of the present linear part.</summary>
    /// <param name="changed">True when it is another than at the last call.</param>
    /// <param name="forgotten">True when the numbers given before have lost their meaning.</param>
    public int Recognise(out bool changed, out bool forgotten)
    {
        (changed, forgotten) = (false, false);
        if (present >= 0 && IsPresent(present))
        {
            return present;
        }

        changed = true;
        present = known.FindIndex(k => k.G.AsSpan().SequenceEqual(system.ConstantG) && k.C.AsSpan().SequenceEqual(system.ConstantC));
        if (present < 0)
        {
            if (known.Count == Most)
            {
                known.Clear();
                forgotten = true;
            }

            known.Add(([.. system.ConstantG], [.. system.ConstantC]));
            present = known.Count - 1;
        }

        return present;
    }

    private bool IsPresent(int number) =>
        known[number].G.AsSpan().SequenceEqual(system.ConstantG) && known[number].C.AsSpan().SequenceEqual(system.ConstantC);
}
