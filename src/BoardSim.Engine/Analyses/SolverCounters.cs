namespace BoardSim.Engine.Analyses;

/// <summary>Running counts behind <see cref="SolverEvidence"/>.</summary>
internal sealed class SolverCounters
{
    public long Points;
    public long Rejected;
    public long Forced;
    public long Iterations;
    public long Factorizations;
    public long Events;
    public double WorstKcl;
    public double WorstHeat;
}
