using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>
/// Finds room for boxes in a panel where they cover no trace: the panel is divided into small cells, traces and boxes mark the
/// cells they touch, and a box goes to the free place nearest to where it would like to be.
/// </summary>
internal sealed class Placer
{
    private const float Cell = 6;

    private readonly SKRect area;
    private readonly int columns;
    private readonly int rows;
    private readonly bool[] taken;

    public Placer(SKRect area)
    {
        this.area = area;
        columns = Math.Max(1, (int)(area.Width / Cell));
        rows = Math.Max(1, (int)(area.Height / Cell));
        taken = new bool[columns * rows];
    }

    /// <summary>Marks a straight piece of a trace with some air around it.</summary>
    public void Line(float x0, float y0, float x1, float y1, float air)
    {
        // The panel clips what is drawn, so what lies far outside need not be walked.
        (y0, y1) = (Math.Clamp(y0, area.Top - 50, area.Bottom + 50), Math.Clamp(y1, area.Top - 50, area.Bottom + 50));
        var steps = Math.Max(1, (int)Math.Ceiling(Math.Max(Math.Abs(x1 - x0), Math.Abs(y1 - y0)) / Cell));
        for (var k = 0; k <= steps; k++)
        {
            var (x, y) = (x0 + ((x1 - x0) * k / steps), y0 + ((y1 - y0) * k / steps));
            Mark(new SKRect(x - air, y - air, x + air, y + air));
        }
    }

    /// <summary>Marks a box as taken.</summary>
    public void Mark(SKRect box)
    {
        var (left, right) = (Math.Max(0, Column(box.Left)), Math.Min(columns - 1, Column(box.Right)));
        var (top, bottom) = (Math.Max(0, Row(box.Top)), Math.Min(rows - 1, Row(box.Bottom)));
        for (var r = top; r <= bottom; r++)
            for (var c = left; c <= right; c++)
                taken[(r * columns) + c] = true;
    }

    /// <summary>The free place of a size whose middle is nearest to a wish and no farther above or below it than given, or null when there is none; it is marked as taken.</summary>
    public SKRect? Place(float width, float height, SKPoint wish, float farthest = float.PositiveInfinity)
    {
        var sums = Sums();
        int w = (int)Math.Ceiling(width / Cell) + 1, h = (int)Math.Ceiling(height / Cell) + 1;
        SKRect? best = null;
        var least = double.PositiveInfinity;
        for (var r = 1; r + h < rows; r++)
            for (var c = 1; c + w < columns; c++)
            {
                if (Taken(sums, r, c, h, w) != 0)
                    continue;
                var place = SKRect.Create(area.Left + (c * Cell), area.Top + (r * Cell), width, height);
                var distance = Math.Pow(place.MidX - wish.X, 2) + Math.Pow(place.MidY - wish.Y, 2);
                if (distance < least && Math.Abs(place.MidY - wish.Y) <= farthest)
                    (best, least) = (place, distance);
            }

        if (best is { } found)
            Mark(SKRect.Inflate(found, 8, 8));
        return best;
    }

    private int Column(float x) => (int)Math.Floor((x - area.Left) / Cell);

    private int Row(float y) => (int)Math.Floor((y - area.Top) / Cell);

    // Number of taken cells above and to the left, so that any box is counted with four look-ups.
    private int[] Sums()
    {
        var sums = new int[(rows + 1) * (columns + 1)];
        for (var r = 0; r < rows; r++)
            for (var c = 0; c < columns; c++)
                sums[((r + 1) * (columns + 1)) + c + 1] = (taken[(r * columns) + c] ? 1 : 0)
                    + sums[(r * (columns + 1)) + c + 1] + sums[((r + 1) * (columns + 1)) + c] - sums[(r * (columns + 1)) + c];
        return sums;
    }

    private int Taken(int[] sums, int r, int c, int h, int w)
    {
        var stride = columns + 1;
        return sums[((r + h) * stride) + c + w] - sums[(r * stride) + c + w] - sums[((r + h) * stride) + c] + sums[(r * stride) + c];
    }
}
