namespace BoardSim.Scenarios;

/// <summary>What a window's length is counted in.</summary>
public enum WindowKind
{
    /// <summary>All that was recorded.</summary>
    Whole,

    /// <summary>From one time to another.</summary>
    Times,

    /// <summary>A number of mains cycles at the end of the run.</summary>
    LastLineCycles,

    /// <summary>A number of switching cycles at the end of the run.</summary>
    LastSwitchingCycles,
}

/// <summary>A stretch of time: <c>10 ms to 30 ms</c>, <c>last 2 line cycles</c>, <c>last 10 switching cycles</c>.</summary>
/// <param name="Kind">What the length is counted in.</param>
/// <param name="From">Start in seconds; of use for <see cref="WindowKind.Times"/>.</param>
/// <param name="To">End in seconds; of use for <see cref="WindowKind.Times"/>.</param>
/// <param name="Cycles">Number of cycles; of use for the two kinds that count them.</param>
public sealed record WindowSpec(WindowKind Kind, double From = 0, double To = 0, int Cycles = 0)
{
    /// <summary>All that was recorded.</summary>
    public static WindowSpec Whole { get; } = new(WindowKind.Whole);

    /// <summary>Start and end in seconds, within what was recorded.</summary>
    /// <param name="start">First recorded instant in seconds.</param>
    /// <param name="stop">Last recorded instant in seconds.</param>
    /// <param name="lineFrequency">Frequency of the mains in hertz; null when there is none.</param>
    /// <param name="switchingFrequency">Switching frequency in hertz; null when there is none.</param>
    /// <exception cref="InvalidOperationException">Cycles are counted and there is no such frequency.</exception>
    public (double From, double To) Within(double start, double stop, double? lineFrequency, double? switchingFrequency)
    {
        var (from, to) = Kind switch
        {
            WindowKind.Whole => (start, stop),
            WindowKind.Times => (From, To),
            WindowKind.LastLineCycles => (stop - Cycles / Cycle(lineFrequency, "line"), stop),
            _ => (stop - Cycles / Cycle(switchingFrequency, "switching"), stop),
        };

        // A window that misses the record shrinks to its nearest instant; what is taken over it then has no value and says so.
        return (Math.Clamp(from, start, stop), Math.Clamp(to, start, stop));
    }

    private static double Cycle(double? frequency, string what) =>
        frequency ?? throw new InvalidOperationException($"The board has no {what} frequency to count cycles by.");
}
