using BoardSim.Measurement;

namespace BoardSim.Reports.Figures;

/// <summary>
/// Stacked panels over one horizontal axis, drawn so that they read from the last row. In few lines:
/// <c>Figure.Compare("Aged bulk capacitor", "Bulk + against primary return", healthy, faulty).SavePng("bulk.png")</c>.
/// </summary>
/// <param name="Title">What the figure shows, one or two lines.</param>
/// <param name="X">The horizontal axis of all panels.</param>
/// <param name="Panels">The panels from top to bottom, one or more.</param>
public sealed record Figure(string Title, FigureAxis X, IReadOnlyList<FigurePanel> Panels) : Drawing(Title)
{
    /// <summary>Remarks at a position on the horizontal axis.</summary>
    public IReadOnlyList<FigureNote> Notes { get; init; } = [];

    /// <summary>900 for one or two panels (16:9), more for further ones.</summary>
    public override int Height => 900 + (270 * Math.Max(0, Panels.Count - 2));

    /// <summary>Healthy and faulty on the same axes.</summary>
    /// <param name="title">What the figure shows.</param>
    /// <param name="heading">Test point and reference, e.g. "Bulk + against primary return".</param>
    /// <param name="healthy">The board as it should be.</param>
    /// <param name="faulty">The board with a fault, in the same unit.</param>
    public static Figure Compare(string title, string heading, Waveform healthy, Waveform faulty) =>
        FromWaveforms(title, heading, [("healthy", healthy), ("faulty", faulty)]);

    /// <summary>Any number of waveforms on the same axes. The first is drawn as the healthy one, the rest as faulty.</summary>
    /// <param name="title">What the figure shows.</param>
    /// <param name="heading">Test point and reference.</param>
    /// <param name="waveforms">What the legend calls each waveform, and the waveform; all in the same unit.</param>
    /// <exception cref="ReportException">There is none, or the units differ.</exception>
    public static Figure FromWaveforms(string title, string heading, IReadOnlyList<(string Label, Waveform Waveform)> waveforms)
    {
        ArgumentNullException.ThrowIfNull(waveforms);
        if (waveforms.Count == 0)
            throw new ReportException($"The figure '{title}' has no waveform; give it at least one.");
        var unit = waveforms[0].Waveform.Unit;
        if (waveforms.FirstOrDefault(w => w.Waveform.Unit != unit) is { Waveform: { } odd })
            throw new ReportException(
                $"The figure '{title}' has waveforms in {unit} and in {odd.Unit}; waveforms on the same axes need the same unit, others a panel of their own.");
        var traces = waveforms.Select((w, k) => new FigureTrace(
            w.Label, w.Waveform.Times.ToArray(), Shown(w.Waveform), k == 0 ? TraceRole.Healthy : TraceRole.Faulty)).ToList();
        return new Figure(title, FigureAxis.Time, [new FigurePanel(heading, new FigureAxis(Engineering.Quantity(unit.Symbol, unit.Kind), unit.Symbol), traces)]);
    }

    internal override void Paint(Paper paper) => FigurePainter.Paint(this, paper);

    // Waveforms hold temperatures in kelvin and shares as fractions; an axis prints the unit's symbol.
    private static double[] Shown(Waveform waveform)
    {
        var unit = waveform.Unit;
        return [.. waveform.Values.ToArray().Select(value =>
            unit == Quantities.Unit.Temperature ? value - 273.15 : unit == Quantities.Unit.Percent ? value * 100 : value)];
    }
}
