namespace BoardSim.Engine.Netlists;

/// <summary>The kinds of analysis that a netlist can ask for.</summary>
public enum AnalysisKind
{
    /// <summary><c>.op</c></summary>
    OperatingPoint,

    /// <summary><c>.dc</c></summary>
    DcSweep,

    /// <summary><c>.ac</c></summary>
    Ac,

    /// <summary><c>.tran</c></summary>
    Transient,
}

/// <summary>One analysis that a netlist asks for.</summary>
/// <param name="Kind">Which analysis.</param>
public abstract record AnalysisCard(AnalysisKind Kind);

/// <summary><c>.op</c>: the operating point.</summary>
public sealed record OperatingPointCard() : AnalysisCard(AnalysisKind.OperatingPoint);

/// <summary><c>.dc source start stop step [source2 start2 stop2 step2]</c>: operating points over the value of one or two sources.</summary>
/// <param name="Inner">The first source of the card; it runs through its whole range at each value of the second.</param>
/// <param name="Outer">The second source, or null.</param>
public sealed record DcSweepCard(DcSweepAxis Inner, DcSweepAxis? Outer = null) : AnalysisCard(AnalysisKind.DcSweep);

/// <summary>One swept source of a <c>.dc</c> card.</summary>
/// <param name="Source">Name of a voltage or current source of the circuit.</param>
/// <param name="Start">First value, in volts or amperes.</param>
/// <param name="Stop">Last value.</param>
/// <param name="Step">Increment, not zero, with the sign that leads from start to stop.</param>
public sealed record DcSweepAxis(string Source, double Start, double Stop, double Step)
{
    /// <summary>Number of values, found without making them.</summary>
    internal double Count => Math.Floor((Stop - Start) / Step + 1e-6) + 1;

    /// <summary>The values of the sweep. The last is <see cref="Stop"/> when a whole number of steps leads there, to within a
    /// millionth of a step.</summary>
    public IReadOnlyList<double> Values()
    {
        var steps = (int)Count - 1;
        var values = new double[steps + 1];
        for (var k = 0; k <= steps; k++)
        {
            values[k] = Start + k * Step;
        }

        if (Math.Abs(values[steps] - Stop) <= 1e-6 * Math.Abs(Step))
        {
            values[steps] = Stop;
        }

        return values;
    }
}

/// <summary>How the frequencies of an <c>.ac</c> card are spaced.</summary>
public enum FrequencySpacing
{
    /// <summary><c>lin</c>: a number of frequencies at equal distances.</summary>
    Linear,

    /// <summary><c>dec</c>: a number of frequencies in each decade, at equal ratios.</summary>
    Decade,

    /// <summary><c>oct</c>: a number of frequencies in each octave, at equal ratios.</summary>
    Octave,
}

/// <summary><c>.ac dec|oct|lin points start stop</c>: the small-signal response over frequency.</summary>
/// <param name="Spacing">How frequencies are spaced.</param>
/// <param name="Points">Points in all (linear) or per decade or octave; at least 1.</param>
/// <param name="Start">First frequency in hertz, positive.</param>
/// <param name="Stop">Last frequency in hertz, not below the first.</param>
public sealed record AcCard(FrequencySpacing Spacing, int Points, double Start, double Stop) : AnalysisCard(AnalysisKind.Ac)
{
    private double Ratio => Spacing == FrequencySpacing.Decade ? 10 : 2;

    /// <summary>Number of frequencies, found without making them.</summary>
    internal double Count => Spacing == FrequencySpacing.Linear ? Points : Math.Floor(Math.Log(Stop / Start) / Math.Log(Ratio) * Points + 1e-6) + 1;

    /// <summary>The frequencies in hertz, rising. With <see cref="FrequencySpacing.Decade"/> and <see cref="FrequencySpacing.Octave"/>
    /// the last one is the highest on the grid that does not exceed <see cref="Stop"/>.</summary>
    public IReadOnlyList<double> Frequencies()
    {
        if (Spacing == FrequencySpacing.Linear)
        {
            return Points == 1
                ? [Start]
                : [.. Enumerable.Range(0, Points).Select(k => k == Points - 1 ? Stop : Start + k * ((Stop - Start) / (Points - 1)))];
        }

        return [.. Enumerable.Range(0, (int)Count).Select(k => Start * Math.Pow(Ratio, (double)k / Points))];
    }
}

/// <summary><c>.tran step stop [start [maxstep]] [uic]</c>: the behaviour over time.</summary>
/// <param name="Step">Interval in seconds at which the user wants to see values; also the default of rise and fall times.</param>
/// <param name="Stop">End in seconds.</param>
/// <param name="Start">Values before this instant, in seconds, are computed but not kept.</param>
/// <param name="MaxStep">Longest step of the solver in seconds; null leaves it to the error control.</param>
/// <param name="UseInitialConditions">Start from the initial conditions of parts and nodes instead of an operating point.</param>
public sealed record TransientCard(double Step, double Stop, double Start = 0, double? MaxStep = null, bool UseInitialConditions = false)
    : AnalysisCard(AnalysisKind.Transient);
