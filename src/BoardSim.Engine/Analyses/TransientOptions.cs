using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>Settings of a transient run.</summary>
public sealed record TransientOptions
{
    /// <summary>End of the run in seconds, positive.</summary>
    public double Stop { get; init; }

    /// <summary>Instant in seconds from which on results are recorded; 0 by default.</summary>
    public double Start { get; init; }

    /// <summary>Longest step in seconds; unlimited by default, for the error control finds its own.</summary>
    public double MaxStep { get; init; } = double.PositiveInfinity;

    /// <summary>Relative accuracy asked, 1e-8 to 0.1; 1e-3 by default. Absolute floors follow from it.</summary>
    public double Accuracy { get; init; } = 1e-3;

    /// <summary>True starts from initial conditions (SPICE: UIC), uncharged where none is given, instead of an operating point.</summary>
    public bool UseInitialConditions { get; init; }

    /// <summary>
    /// Resolution in seconds that the record needs (SPICE: the step of .tran). Samples between the solver's own points are not
    /// set closer than this; the solver's points are all kept. 0 asks for as many as straight lines need to keep the accuracy.
    /// </summary>
    public double Resolution { get; init; }

    /// <summary>Integration method; null for the default.</summary>
    public StageMethod? Method { get; init; }

    /// <summary>Most values that are recorded, samples times signals; the run then ends early and says so. 50 million unless set.</summary>
    public long MostValues { get; init; } = RunLimits.UsualMostValues;

    /// <summary>
    /// True lets <see cref="Transient.Run"/> leap over periods where all sources repeat with one period and the state changes slowly
    /// from one to the next; their waveforms are then interpolated, and the evidence says how many. A <see cref="TransientRun"/>
    /// that is pulled by hand never leaps.
    /// </summary>
    public bool Leaps { get; init; }

    /// <summary>Time in seconds over which the peaks that tolerances are relative to fade by five e-folds; null for the length of the run.</summary>
    internal double? Fading { get; init; }

    /// <summary>Wall-clock limit; the run then ends early and says so.</summary>
    public TimeSpan? WallClockLimit { get; init; }

    /// <summary>Cancels the run; what has been computed stays valid.</summary>
    public CancellationToken Cancellation { get; init; }

    /// <summary>Checks the settings.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A setting is out of range.</exception>
    public void Validate()
    {
        Require(Stop > 0 && double.IsFinite(Stop), nameof(Stop), Stop, "positive and finite");
        Require(Start >= 0 && Start < Stop, nameof(Start), Start, "zero or more and before Stop");
        Require(Resolution >= 0, nameof(Resolution), Resolution, "zero or more");
        Require(MostValues > 0, nameof(MostValues), MostValues, "positive");
        Require(MaxStep > 0, nameof(MaxStep), MaxStep, "positive");
        Require(Accuracy is >= 1e-8 and <= 0.1, nameof(Accuracy), Accuracy, "between 1e-8 and 0.1");
    }

    private static void Require(bool holds, string name, double value, string legal)
    {
        if (!holds)
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}; it must be {legal}.");
        }
    }
}
