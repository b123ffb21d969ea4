namespace BoardSim.Scenarios;

/// <summary>What the solver did in a run.</summary>
public sealed record RunEvidence
{
    /// <summary>Accepted points.</summary>
    public required long Points { get; init; }

    /// <summary>Rejected steps.</summary>
    public required long Rejected { get; init; }

    /// <summary>Newton iterations.</summary>
    public required long NewtonIterations { get; init; }

    /// <summary>Matrix factorizations.</summary>
    public required long Factorizations { get; init; }

    /// <summary>Events that were located and handled.</summary>
    public required long Events { get; init; }

    /// <summary>Worst residual of Kirchhoff's current law, in amperes.</summary>
    public required double WorstKclResidual { get; init; }

    /// <summary>Sum of v*i over all parts relative to the power that flows (Tellegen's theorem).</summary>
    public required double PowerBalance { get; init; }

    /// <summary>Time that the computation took, in seconds; the one figure that differs from run to run.</summary>
    public required double WallSeconds { get; init; }
}

/// <summary>A part that changed its state during a run.</summary>
/// <param name="Time">Instant in seconds.</param>
/// <param name="Part">Name of the part.</param>
/// <param name="State">What it changed to.</param>
public sealed record RunEvent(double Time, string Part, string State);
