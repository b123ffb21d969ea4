using System.Globalization;

namespace BoardSim.Reports.Figures;

/// <summary>Tick positions (in SI units) and their printed numbers: steps of 1, 2 or 5, or decades.</summary>
/// <param name="Major">Labelled ticks.</param>
/// <param name="Minor">Ticks without a label.</param>
internal sealed record Ticks(IReadOnlyList<(double Value, string Text)> Major, IReadOnlyList<double> Minor)
{
    /// <summary>Chooses ticks for a range.</summary>
    /// <param name="range">The visible range.</param>
    /// <param name="most">At most about so many labelled ticks, 2 or more.</param>
    public static Ticks For(AxisRange range, int most) => range.Logarithmic ? Decades(range, most) : Linear(range, most);

    private static Ticks Linear(AxisRange range, int most)
    {
        var (factor, _) = range.Scale;
        double low = (range.Low - range.Shift) / factor, high = (range.High - range.Shift) / factor;
        var (step, parts) = Step((high - low) / most);
        var decimals = Math.Max(0, -(int)Math.Floor(Math.Log10(step) + 1e-9));
        var tolerance = 1e-9 * (high - low);
        List<(double, string)> major = [];
        List<double> minor = [];
        for (var k = (long)Math.Ceiling((low - tolerance) / step * parts); k * step / parts <= high + tolerance; k++)
        {
            var printed = k * step / parts;
            var value = range.Shift + (printed * factor);
            if (k % parts != 0)
                minor.Add(value);
            else
                major.Add((value, Text(printed, decimals)));
        }

        return new Ticks(major, minor);
    }

    private static (double Step, int Parts) Step(double least)
    {
        var decade = Math.Pow(10, Math.Floor(Math.Log10(least)));
        foreach (var (multiple, parts) in ((double, int)[])[(1, 5), (2, 4), (5, 5), (10, 5)])
            if (multiple * decade >= least * (1 - 1e-9))
                return (multiple * decade, parts);
        return (10 * decade, 5);
    }

    private static Ticks Decades(AxisRange range, int most)
    {
        var decades = Math.Log10(range.High / range.Low);
        int[] labelled = decades * 3 <= most ? [1, 2, 5] : [1];
        if (decades * 9 <= most)
            labelled = [1, 2, 3, 4, 5, 6, 7, 8, 9];
        var (factor, _) = range.Scale;
        List<(double, string)> major = [];
        List<double> minor = [];
        var slack = 1 + 1e-9;
        for (var e = (int)Math.Floor(Math.Log10(range.Low)); e <= Math.Ceiling(Math.Log10(range.High)); e++)
            for (var m = 1; m <= 9; m++)
            {
                var value = double.Parse($"{m}E{e}", CultureInfo.InvariantCulture);
                if (value * slack < range.Low || value > range.High * slack)
                    continue;
                if (labelled.Contains(m))
                    major.Add((value, (value / factor).ToString("0.######", CultureInfo.InvariantCulture)));
                else
                    minor.Add(value);
            }

        return new Ticks(major, minor);
    }

    private static string Text(double value, int decimals)
    {
        var text = Math.Abs(value).ToString("F" + decimals, CultureInfo.InvariantCulture);
        var zero = text.All(c => c is '0' or '.');
        return zero ? "0" : value < 0 ? "−" + text : text;
    }
}
