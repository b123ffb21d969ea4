namespace BoardSim.Engine.Devices;

/// <summary>The lower or the higher of two values with a rounded corner, so that Newton's method meets no kink: half an hyperbola's branch, off by
/// half the width where both are equal and by <c>width^2 / 4d</c> where they are <c>d</c> apart.</summary>
internal static class SmoothLimit
{
    /// <summary>The lower of two values.</summary>
    /// <param name="a">One value.</param>
    /// <param name="b">The other.</param>
    /// <param name="width">Width of the rounding, positive, in the values' unit.</param>
    /// <param name="share">Receives the derivative by <paramref name="a"/>; that by <paramref name="b"/> is one less it.</param>
    public static double Lower(double a, double b, double width, out double share)
    {
        var rest = Rest(Math.Abs(a - b), width, out var minor);
        share = a < b ? 1 - minor : minor;
        return Math.Min(a, b) - rest;
    }

    /// <summary>The higher of two values; parameters as for <see cref="Lower"/>.</summary>
    public static double Higher(double a, double b, double width, out double share)
    {
        var rest = Rest(Math.Abs(a - b), width, out var minor);
        share = a > b ? 1 - minor : minor;
        return Math.Max(a, b) + rest;
    }

    /// <summary>What the hyperbola is off its asymptote by, written so that nothing cancels far from the corner.</summary>
    private static double Rest(double distance, double width, out double minor)
    {
        var square = width * width;
        var root = Math.Sqrt(distance * distance + square);
        minor = 0.5 * square / (root * (root + distance));
        return 0.5 * square / (root + distance);
    }
}
