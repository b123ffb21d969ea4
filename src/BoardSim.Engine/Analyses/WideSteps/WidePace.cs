namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>
/// Decides when a wide step is worth a trial and how long it should be. Wide steps are for ringing: where ordinary steps follow
/// each other at one length, or where wide steps did well after the same corner or event before. A refused trial costs a rest
/// that doubles each time, and a map that has to be made first is paid for by the ordinary steps taken so far, so that a circuit
/// without ringing hardly pays at all.
/// </summary>
internal sealed class WidePace
{
    /// <summary>Ordinary steps that are compared as a whole: within a cycle they vary, from one cycle to the next they do not.</summary>
    private const int Window = 8;

    /// <summary>Ordinary steps in a row, in windows of about one length, that look like ringing.</summary>
    private const int RingSteps = 16;

    /// <summary>Ratio of a window's length to the former one's that still looks like it.</summary>
    private const double Drift = 1.8;

    /// <summary>Ordinary steps that must go well before a trial where wide steps have done well before.</summary>
    private const int Calm = 2;

    /// <summary>Wide steps in a stretch that make it one where they do well.</summary>
    private const int DidWell = 6;

    private const int LongestRest = 96;

    private const int LongestPatience = 48;

    private const int NoCeiling = 1 << 20;

    /// <summary>Wide steps in a row after which an ordinary one shows what such steps are worth by now: where a ring has died down they grow. Each time that it has not, twice as
    /// many follow: an ordinary step errs by all of its tolerance, a wide one by a small part of it, and a ring without loss forgets neither.</summary>
    private const int LookAgain = 32;

    private const int LongestUnlooked = 4096;

    /// <summary>Length of the first trial, as a multiple of what is just worth while.</summary>
    private const double FirstTry = 1.5;

    /// <summary>Ordinary steps that a wide one saves, for what may be spent on maps.</summary>
    private const int Saves = 3;

    private readonly double limit;
    private readonly double worth;
    private readonly int stages;
    private readonly int?[] remembered;
    private int key;
    private int calm, rest, penalty = 2;
    private int inWindow;
    private double window, formerWindow;
    private double ordinary = double.NaN;
    private double gain = 3;
    private int? notch, first;
    private int taken, row;
    private int unlooked = LookAgain;
    private bool looked;
    private int ceiling = NoCeiling, patience, wait = 1;
    private double credit;

    /// <summary>Prepares the decisions for a run.</summary>
    /// <param name="stages">Stages of a wide step.</param>
    /// <param name="limit">Size of what a step leaves out, in tolerances of one step, that is aimed at.</param>
    /// <param name="worth">Ordinary steps that a wide one has to be longer than to be worth while.</param>
    /// <param name="keys">Number of keys that <see cref="Begin"/> may be given.</param>
    public WidePace(int stages, double limit, double worth, int keys)
    {
        (this.stages, this.limit, this.worth) = (stages, limit, worth);
        remembered = new int?[keys];
    }

    /// <summary>Notch of the wide step to try now, or null for an ordinary step.</summary>
    /// <param name="step">The ordinary step that would be taken, in seconds.</param>
    /// <param name="room">Longest step that is possible now, in seconds.</param>
    public int? Next(double step, double room)
    {
        if (notch is null)
        {
            var known = taken >= DidWell || remembered[key] is not null;
            if (rest > 0 || calm < (known ? Calm : RingSteps))
            {
                return null;
            }

            // A step of a ring's sharpest moment is no measure of what the whole cycle takes.
            ordinary = known ? step : formerWindow / Window;
            notch = taken == 0 && remembered[key] is { } before ? before : WideStepSolver.NotchBelow(Math.Max(gain, FirstTry * worth) * ordinary);
        }

        if (looked)
        {
            (ordinary, looked) = (step, false);
            unlooked = WideStepSolver.LengthOf(notch.Value) < worth * ordinary ? LookAgain : Math.Min(2 * unlooked, LongestUnlooked);
        }
        else if (row >= unlooked)
        {
            return null;
        }

        var fitting = Math.Min(notch.Value, WideStepSolver.NotchBelow(room));
        return fitting < notch.Value - WideStepSolver.NotchesPerOctave || WideStepSolver.LengthOf(fitting) < worth * ordinary ? null : fitting;
    }

    /// <summary>True when what was saved so far pays for a map.</summary>
    /// <param name="price">Its price in ordinary steps.</param>
    public bool CanPay(double price)
    {
        if (credit < price)
        {
            return false;
        }

        credit -= price;
        return true;
    }

    /// <summary>A new stretch begins, after a corner or an event.</summary>
    /// <param name="after">Number of what it begins after.</param>
    public void Begin(int after)
    {
        remembered[key] = taken >= DidWell ? first : null;
        (key, calm, taken, notch, first, rest, ceiling) = (after, 0, 0, null, null, 0, NoCeiling);
        (inWindow, window, formerWindow) = (0, 0, 0);
    }

    /// <summary>Takes note of an ordinary step.</summary>
    /// <param name="length">Its length in seconds.</param>
    /// <param name="well">False after a rejected trial.</param>
    public void Ordinary(double length, bool well)
    {
        credit++;
        (row, looked) = (0, notch is not null);
        rest -= rest > 0 ? 1 : 0;
        if (taken >= DidWell || remembered[key] is not null)
        {
            calm = well ? calm + 1 : 0;
            return;
        }

        window += length;
        if (++inWindow == Window)
        {
            // Where windows grow or shrink it is a decay, not a ring.
            calm = window < Drift * formerWindow && formerWindow < Drift * window ? calm + Window : 0;
            (inWindow, window, formerWindow) = (0, 0, window);
        }
    }

    /// <summary>True when a wide step of that size may be kept.</summary>
    public bool IsGood(double size) => size <= limit;

    /// <summary>Takes note of a wide step that was accepted.</summary>
    /// <param name="accepted">Its notch.</param>
    /// <param name="size">Size of what it leaves out.</param>
    public void Accepted(int accepted, double size)
    {
        credit += Saves;
        taken++;
        row++;
        first ??= accepted;
        if (--patience < 0)
        {
            ceiling = Math.Min(ceiling + 1, NoCeiling);
            patience = wait = Math.Max(1, wait / 2);
        }

        var factor = 0.85 * Math.Pow(limit / (size + 1e-12 * limit), 1.0 / (stages + 1));
        var change = (int)Math.Clamp(Math.Floor(WideStepSolver.NotchesPerOctave * Math.Log2(factor)), -WideStepSolver.NotchesPerOctave, WideStepSolver.NotchesPerOctave);
        if (accepted == notch || change < 0)
        {
            // A ring is smoother in one part of its cycle than in another: what was refused in the one is not tried in the other.
            notch = Math.Min(accepted + change, ceiling);
        }

        gain = Math.Clamp(WideStepSolver.LengthOf(accepted) / ordinary, 2, 64);
        penalty = 2;
    }

    /// <summary>Takes note of a wide step that was not: a shorter one is tried while that is worth while, then there is a rest.</summary>
    /// <param name="tried">Its notch.</param>
    /// <param name="size">Size of what it leaves out; infinity when it did not converge.</param>
    /// <returns>True when a shorter one should be tried at once.</returns>
    public bool Refused(int tried, double size)
    {
        var factor = double.IsFinite(size) ? 0.8 * Math.Pow(limit / size, 1.0 / (stages + 1)) : 0.6;
        var shorter = tried + Math.Min(-1, (int)Math.Floor(WideStepSolver.NotchesPerOctave * Math.Log2(factor)));
        if (WideStepSolver.LengthOf(shorter) >= worth * ordinary && shorter > tried - 2 * WideStepSolver.NotchesPerOctave)
        {
            notch = shorter;
            if (double.IsFinite(size))
            {
                ceiling = tried - 1;
                patience = wait = Math.Clamp(3 * wait, 3, LongestPatience);
            }

            return true;
        }

        Rest();
        return false;
    }

    /// <summary>Goes back to ordinary steps for a while.</summary>
    public void Rest()
    {
        (notch, calm, rest, ceiling) = (null, 0, penalty, NoCeiling);
        gain = Math.Max(3, 0.7 * gain);
        penalty = Math.Min(2 * penalty, LongestRest);
    }
}
