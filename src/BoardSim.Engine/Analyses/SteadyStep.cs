namespace BoardSim.Engine.Analyses;

/// <summary>
/// A step kept as it is saves a factorisation. But an estimate that does not depend on the step, what Newton leaves of a current beside one
/// that is a million times as large, would keep picoseconds for ever: now and then a longer one is tried.
/// </summary>
internal sealed class SteadyStep
{
    /// <summary>Steps of one length after which a longer one is tried, at first and at most, and by how much longer it is.</summary>
    private const int Patience = 32;

    private const int MostPatience = 512;

    private const double TrialGrowth = 2;

    private int kept;
    private int patience = Patience;
    private bool isTrial;

    /// <summary>Length of the next step, in seconds, where the last one could be kept.</summary>
    /// <param name="h">Length of the last one in seconds.</param>
    public double Next(double h)
    {
        if (++kept < patience)
        {
            return h;
        }

        (kept, isTrial) = (0, true);
        return TrialGrowth * h;
    }

    /// <summary>A step was accepted; a longer one that was tried shows that longer ones are right.</summary>
    public void Accepted() => (patience, isTrial) = (isTrial ? 1 : patience, false);

    /// <summary>A step was refused; of a longer one that was tried: the error was the step's, after all.</summary>
    public void Refused()
    {
        if (isTrial)
        {
            (isTrial, patience) = (false, Math.Min(2 * Math.Max(patience, Patience), MostPatience));
        }
    }

    /// <summary>A new stretch begins.</summary>
    public void Forget() => (kept, patience, isTrial) = (0, Patience, false);
}
