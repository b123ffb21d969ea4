using SkiaSharp;

namespace BoardSim.Reports.Tests;

/// <summary>Looks at a picture as a viewer does: which pixels are dark.</summary>
internal sealed class Pixels : IDisposable
{
    private readonly SKBitmap bitmap;

    public Pixels(byte[] png) => bitmap = SKBitmap.Decode(png);

    public int Width => bitmap.Width;

    public int Height => bitmap.Height;

    /// <summary>Number of pixels in a region that are darker than a mid grey.</summary>
    public int Dark(int left, int top, int right, int bottom) => Count(left, top, right, bottom, colour => Luminance(colour) < 110);

    public int Count(int left, int top, int right, int bottom, Func<SKColor, bool> wanted)
    {
        var count = 0;
        for (var y = top; y < bottom; y++)
            for (var x = left; x < right; x++)
                if (wanted(bitmap.GetPixel(x, y)))
                    count++;
        return count;
    }

    /// <summary>Lightness as a grey copy has it: Rec. ITU-R BT.601-7, section 2.5.1.</summary>
    public static double Luminance(SKColor colour) => (0.299 * colour.Red) + (0.587 * colour.Green) + (0.114 * colour.Blue);

    public void Dispose() => bitmap.Dispose();
}
