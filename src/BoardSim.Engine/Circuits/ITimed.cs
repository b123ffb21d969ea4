namespace BoardSim.Engine.Circuits;

/// <summary>A device whose law has a corner or a jump at instants known in advance; the transient loop lands on each exactly.</summary>
public interface ITimed
{
    /// <summary>The first such instant later than <paramref name="time"/>, in seconds; positive infinity when there is none.</summary>
    /// <param name="time">Present time in seconds. An instant equal to it, to within rounding, has been served already.</param>
    double NextCorner(double time);

    /// <summary>Longest step in seconds, measured at <paramref name="time"/>, that cannot jump over the waveform's features (half
    /// a sine period, say); positive infinity when there is no such limit.</summary>
    /// <param name="time">Present time in seconds.</param>
    double LongestStep(double time) => double.PositiveInfinity;

    /// <summary>True when what the device contributes is the same at every instant between two that have no corner between them.</summary>
    /// <param name="from">First instant in seconds.</param>
    /// <param name="to">Last instant in seconds.</param>
    bool IsSteady(double from, double to) => false;

    /// <summary>How the law goes on from <paramref name="time"/>: repeating, constant, or neither, which is what a device says that does not know.</summary>
    /// <param name="time">Present time in seconds.</param>
    Repetition RepetitionAt(double time) => Repetition.None;

    /// <summary>Moves what the device remembers of its own period: the run goes on from a later or an earlier period, at the same phase. Deadlines that belong to
    /// no period stay where they are.</summary>
    /// <param name="seconds">Distance in seconds, a whole number of the device's periods; negative backwards.</param>
    void Shift(double seconds)
    {
    }
}
