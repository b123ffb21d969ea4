namespace BoardSim.Reports.Figures;

/// <summary>Numbers side by side: a group of bars for each number, a bar for each condition, its value written on top.</summary>
/// <param name="Title">What the figure shows, one or two lines.</param>
/// <param name="Groups">The groups from left to right, one or more.</param>
public sealed record BarFigure(string Title, IReadOnlyList<BarGroup> Groups) : Drawing(Title)
{
    internal override void Paint(Paper paper) => BarPainter.Paint(this, paper);
}
