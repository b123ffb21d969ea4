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
        var d = a - b;
        var root = Math.Sqrt(d * d + width * width);
        share = 0.5 * (1 - d / root);
        return 0.5 * (a + b - root);
    }

    /// <summary>The higher of two values; parameters as for <see cref="Lower"/>.</summary>
    public static double Higher(double a, double b, double width, out double share)
    {
        var d = a - b;
        var root = Math.Sqrt(d * d + width * width);
        share = 0.5 * (1 + d / root);
        return 0.5 * (a + b + root);
    }
}
