namespace BoardSim.Engine.Analyses;

/// <summary>
/// Decides whether a step is made shorter for the sake of what lies between the points: a diode began to conduct inside, and the dense output would draw it wrong. That is worth
/// while as long as the step is one that shows and shortening helps: a kink comes nearer, noise does not go away. What is left alone is left alone unknown by unknown: a winding that hangs on
/// blocking diodes wanders as it likes, and the capacitor behind them is still looked at.
/// </summary>
/// <param name="shortest">Length in seconds of the shortest step that shows.</param>
/// <param name="size">Length of the vectors over the unknowns.</param>
internal sealed class Bends(double shortest, int size)
{
    /// <summary>Distance of the dense output from the inner stage, in tolerances of a step, beyond which the step is made shorter.</summary>
    public const double Limit = 12;

    /// <summary>Shorter steps in a row that did not help, after which bends are left alone: a kink may lie worse in a shorter step before it lies better.</summary>
    private const int Vain = 2;

    /// <summary>A bend, in tolerances of a step, that is a whole edge, and how much shorter the last attempts are then.</summary>
    private const double Edge = 20 * Limit;

    private const double EdgeShare = 0.05;

    /// <summary>For so many steps they are left alone at first and at most: noise does not go away, and each look at it costs steps.</summary>
    private const int FirstRest = 2;

    private const int LongestRest = 64;

    /// <summary>Multiple of what was left alone beyond which it is something else: a diode begins to conduct.</summary>
    private const double Fresh = 4;

    /// <summary>Growth of what is remembered of a first step that was found by shortening it until shortening did not help.</summary>
    private const double ShyGrowth = 2;

    private int rest;
    private int nextRest = FirstRest;
    private readonly double[] missedInVain = new double[size];
    private double missed;
    private double miss;
    private int vain;

    /// <summary>What is to be done about a bend.</summary>
    public enum Verdict
    {
        /// <summary>Nothing.</summary>
        Accept,

        /// <summary>Nothing in the next steps either: shorter ones did not help, and longer ones than such a look would allow are right.</summary>
        LeaveAlone,

        /// <summary>The step is made shorter.</summary>
        Shorten,
    }

    /// <summary>A new step begins, of which nothing has been tried yet.</summary>
    public void BeginStep() => (missed, vain) = (double.PositiveInfinity, 0);

    /// <summary>Judges an attempt at the step.</summary>
    /// <param name="h">Its length in seconds.</param>
    /// <param name="misses">Distance of the dense output from the inner stages by unknown, in tolerances.</param>
    public Verdict Judge(double h, double[] misses)
    {
        miss = LargestFresh(misses);
        if (rest > 0 && miss == 0)
        {
            rest--;
            return Verdict.Accept;
        }

        if (!(miss > Limit))
        {
            nextRest = double.IsFinite(missed) ? FirstRest : nextRest;
            return Verdict.Accept;
        }

        // Where shortening has led to a step that nobody sees, it has been in vain as well: noise, which the next longer step would run into again.
        var shows = h >= shortest;
        vain = miss > 0.8 * missed ? vain + 1 : 0;
        if (!shows || vain >= Vain)
        {
            return shows || double.IsFinite(missed) ? LeaveAlone(misses) : Verdict.Accept;
        }

        missed = Math.Min(missed, miss);
        return Verdict.Shorten;
    }

    /// <summary>Shorter steps do not help, or rounding forbids them.</summary>
    /// <param name="misses">What is left alone by unknown, in tolerances.</param>
    public Verdict LeaveAlone(double[] misses)
    {
        for (var k = 0; k < misses.Length; k++)
        {
            missedInVain[k] = rest > 0 ? Math.Max(missedInVain[k], misses[k]) : misses[k];
        }

        rest = nextRest;
        nextRest = Math.Min(2 * nextRest, LongestRest);
        return Verdict.LeaveAlone;
    }

    /// <summary>Length of the shorter step to try, in lengths of the one that bends too sharply. Where shortening has just been in vain, a whole edge may lie within, and be much shorter: the flip of a
    /// bistable pair takes nanoseconds of a step of microseconds.</summary>
    public double Shorter() => vain > 0 && miss > Edge ? EdgeShare : Math.Clamp(0.9 * Math.Pow(Limit / miss, 0.25), 0.25, 0.7);

    /// <summary>Length that a first step could have had by its bends, in lengths of the one accepted; where a shorter one did not help, they have no say.</summary>
    /// <param name="miss">What the accepted one missed, in tolerances.</param>
    public double LongestFirst(double miss)
    {
        var factor = miss > 0 ? 0.9 * Math.Pow(Limit / miss, 0.25) : double.PositiveInfinity;
        return factor >= 1 ? factor : double.IsFinite(missed) ? ShyGrowth : double.PositiveInfinity;
    }

    /// <summary>Largest of those misses that are not left alone just now.</summary>
    private double LargestFresh(double[] misses)
    {
        var largest = 0.0;
        for (var k = 0; k < misses.Length; k++)
        {
            // Written so that a NaN is the largest.
            if (!(misses[k] <= largest) && (rest == 0 || !(misses[k] <= Fresh * missedInVain[k])))
            {
                largest = misses[k];
            }
        }

        return largest;
    }
}
