namespace BoardSim.Reports.Figures;

/// <summary>Numbers side by side: a group of bars for each number, a bar for each condition, its value written on top.</summary>
/// <param name="Title">What the figure shows, one or two lines.</param>
/// <param name="Groups">The groups from left to right, one or more.</param>
public sealed record BarFigure(string Title, IReadOnlyList<BarGroup> Groups) : Drawing(Title)
{
    /// <summary>900 for one row of groups (16:9), more for two.</summary>
    public override int Height => Rows == 1 ? 900 : 1240;

    // Above a dozen bars in a row the values on top of them would be too small to read.
    internal int Rows => Groups.Count > 1 && Groups.Sum(group => group.Bars.Count) > 12 ? 2 : 1;

    internal override void Paint(Paper paper) => BarPainter.Paint(this, paper);
}
