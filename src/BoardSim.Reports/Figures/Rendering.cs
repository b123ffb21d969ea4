using SkiaSharp;

namespace BoardSim.Reports.Figures;

/// <summary>Turns a drawing into PNG or SVG. One at a time: the plotting library keeps its fonts in a shared cache.</summary>
internal static class Rendering
{
    private static readonly Lock OneAtATime = new();

    public static byte[] Png(int width, int height, double scale, Action<Paper> draw)
    {
        if (!(scale >= 0.25 && scale <= 4))
            throw new ArgumentOutOfRangeException(nameof(scale), scale, "The scale of a picture is 0.25 to 4 pixels per unit.");
        lock (OneAtATime)
        {
            FigureFont.EnsureRegistered();
            var info = new SKImageInfo((int)Math.Round(width * scale), (int)Math.Round(height * scale));
            using var surface = SKSurface.Create(info)
                ?? throw new ReportException($"There is no memory for a picture of {info.Width} by {info.Height} pixels.");
            surface.Canvas.Clear(SKColors.White);
            surface.Canvas.Scale((float)scale);
            draw(new Paper(surface.Canvas, vector: false));
            using var image = surface.Snapshot();
            using var data = image.Encode(SKEncodedImageFormat.Png, 100);
            return data.ToArray();
        }
    }

    public static string Svg(int width, int height, string title, Action<Paper> draw)
    {
        lock (OneAtATime)
        {
            FigureFont.EnsureRegistered();
            using var stream = new MemoryStream();
            var paper = Draw(stream);
            return SvgTidy.Tidy(stream.ToArray(), width, height, title, paper.Dashes);

            Paper Draw(Stream target)
            {
                using var canvas = SKSvgCanvas.Create(new SKRect(0, 0, width, height), target);
                var drawn = new Paper(canvas, vector: true);
                drawn.Box(new SKRect(0, 0, width, height), "#FFFFFF");
                draw(drawn);
                return drawn;
            }
        }
    }
}
