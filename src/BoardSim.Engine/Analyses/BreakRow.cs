namespace BoardSim.Engine.Analyses;

/// <summary>
/// Counts changes of state that follow each other without time passing. Switches that are turned all at once can chase each other for ever; after a few rounds one device at a time is
/// switched, and time is made to pass between them: what chases each other over so short a step is rounding, perhaps.
/// </summary>
/// <param name="passing">Length in seconds of a step that counts as time passing.</param>
internal sealed class BreakRow(double passing)
{
    /// <summary>Changes of state after which one device at a time is switched and time is made to pass.</summary>
    private const int Many = 3;

    /// <summary>Octaves by which each further one makes the step in longer, and how many of them do.</summary>
    private const int SlackOctaves = 3;

    private const int MostSlack = 16;

    /// <summary>Changes of state after which there is no end to be hoped for.</summary>
    private const int Endless = 1000;

    private int count;

    /// <summary>Instant of the first in the row, in seconds.</summary>
    public double Began { get; private set; }

    /// <summary>True when one device at a time is to be switched.</summary>
    public bool IsLong => count > Many;

    /// <summary>True when it will not end.</summary>
    public bool IsEndless => count > Endless;

    /// <summary>Multiple of the length of a step in by which time is made to pass.</summary>
    public double Slack => Math.ScaleB(1, SlackOctaves * Math.Clamp(count - Many, 0, MostSlack));

    /// <summary>Takes note of a change of state.</summary>
    /// <param name="time">Its instant in seconds.</param>
    public void Add(double time)
    {
        Began = count == 0 ? time : Began;
        count++;
    }

    /// <summary>Takes note of an accepted step: time passes, even if that one step led from one break to the next.</summary>
    /// <param name="h">Its length in seconds.</param>
    public void Pass(double h) => count = h > passing ? 0 : count;

    /// <summary>A step has ended without a break.</summary>
    public void End() => count = 0;
}
