using BoardSim.Engine.Analyses;

namespace BoardSim.Engine.Netlists;

/// <summary>A column of an analysis' result.</summary>
/// <param name="Label">What it holds: <c>time</c>, <c>V(out)</c>, <c>I(L1)</c>, <c>VM(out)</c>.</param>
/// <param name="Unit">Its unit: s, Hz, V, A, deg, dB.</param>
/// <param name="Values">One value per row.</param>
public sealed record AnalysisColumn(string Label, string Unit, IReadOnlyList<double> Values);

/// <summary>What an analysis of a netlist gave, as a table.</summary>
/// <param name="Card">The card that asked for it.</param>
/// <param name="Swept">Number of leading columns that were swept (time, frequency, source values): 0 for an operating point, 2 for
/// a DC sweep over two sources, else 1.</param>
/// <param name="Columns">The columns, all of one length.</param>
/// <param name="Evidence">How the solver fared.</param>
/// <param name="Events">Changes of discrete states; empty but for a transient.</param>
public sealed record AnalysisTable(
    AnalysisCard Card, int Swept, IReadOnlyList<AnalysisColumn> Columns, SolverEvidence Evidence, IReadOnlyList<CircuitEvent> Events)
{
    /// <summary>Whether the analysis reached its end; any other status than completed says that rows are missing, and why.</summary>
    public RunStatus Status { get; init; } = RunStatus.Completed;

    /// <summary>True when rows are missing.</summary>
    public bool IsPartial => Status != RunStatus.Completed;

    /// <summary>How far a partial table reaches, in the unit of its first column; NaN when it has no row.</summary>
    public double Reached => Swept > 0 && Rows > 0 ? Columns[0].Values[Rows - 1] : double.NaN;

    /// <summary>Number of rows.</summary>
    public int Rows => Columns.Count == 0 ? 0 : Columns[0].Values.Count;
}
