using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Netlists;

/// <summary>What a netlist says: a circuit, what to compute and what to show.</summary>
/// <param name="Circuit">The circuit, subcircuits expanded. A part <c>R1</c> of the call <c>X2</c> is named <c>R1.X2</c>, an inner
/// node <c>mid</c> of it <c>mid.X2</c>; calls within calls append further names, innermost first.</param>
public sealed record Netlist(Circuit Circuit)
{
    /// <summary>Analyses in the order of their lines.</summary>
    public IReadOnlyList<AnalysisCard> Analyses { get; init; } = [];

    /// <summary>Output requests in the order of their lines; an analysis without one shows everything.</summary>
    public IReadOnlyList<PrintCard> Prints { get; init; } = [];

    /// <summary>Remarks: legal text that may not mean what its writer thinks, or that has no effect here.</summary>
    public IReadOnlyList<NetlistFinding> Remarks { get; init; } = [];
}
