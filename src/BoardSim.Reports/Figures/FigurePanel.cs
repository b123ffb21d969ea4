namespace BoardSim.Reports.Figures;

/// <summary>One pair of axes of a figure; panels are stacked and share the horizontal axis.</summary>
/// <param name="Heading">What is drawn, with its reference: "Bulk + against primary return"; empty for none.</param>
/// <param name="Y">The vertical axis.</param>
/// <param name="Traces">The traces, drawn in order.</param>
public sealed record FigurePanel(string Heading, FigureAxis Y, IReadOnlyList<FigureTrace> Traces)
{
    /// <summary>Limit lines.</summary>
    public IReadOnlyList<LimitLine> Limits { get; init; } = [];

    /// <summary>Numbers set beside the traces.</summary>
    public IReadOnlyList<CallOut> CallOuts { get; init; } = [];
}
