using BoardSim.Campaign.Drawing;

namespace BoardSim.Campaign.Judging;

/// <summary>A case and what became of it.</summary>
/// <param name="Case">The case.</param>
/// <param name="Verdict">What became of it.</param>
/// <param name="Message">The refusal, or why it failed; empty for a run that converged.</param>
public sealed record CaseResult(CampaignCase Case, Verdict Verdict, string Message)
{
    /// <summary>Accepted points.</summary>
    public long Points { get; init; }

    /// <summary>Newton iterations.</summary>
    public long Iterations { get; init; }

    /// <summary>Steps taken although their error estimate would not fall.</summary>
    public long Forced { get; init; }

    /// <summary>Power balance, relative to the energy turned over.</summary>
    public double PowerBalance { get; init; }

    /// <summary>Largest current left over at a node, relative to the largest branch current of the run.</summary>
    public double CurrentBalance { get; init; }

    /// <summary>Wall-clock time in seconds.</summary>
    public double Seconds { get; init; }
}
