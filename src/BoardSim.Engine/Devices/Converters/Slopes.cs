using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>A number with its derivatives with respect to five quantities: laws of several steps are differentiated as they are computed.</summary>
internal readonly struct Slopes
{
    private readonly Vector256<double> first;
    private readonly double last;

    private Slopes(double value, Vector256<double> first, double last) => (Value, this.first, this.last) = (value, first, last);

    /// <summary>The number.</summary>
    public double Value { get; }

    /// <summary>Its derivative with respect to a quantity, from 0.</summary>
    public double this[int quantity] => quantity < 4 ? first[quantity] : last;

    /// <summary>Number of quantities.</summary>
    public const int Count = 5;

    /// <summary>Copies the derivatives to a span of that length.</summary>
    public void CopyTo(Span<double> derivatives)
    {
        first.CopyTo(derivatives);
        derivatives[Count - 1] = last;
    }

    public static implicit operator Slopes(double value) => new(value, Vector256<double>.Zero, 0);

    /// <summary>One of the quantities themselves.</summary>
    public static Slopes Of(double value, int quantity) =>
        quantity < 4 ? new(value, Vector256<double>.Zero.WithElement(quantity, 1), 0) : new(value, Vector256<double>.Zero, 1);

    /// <summary>A number with derivatives that are known.</summary>
    public static Slopes With(double value, double d0, double d1, double d2, double d3, double d4) => new(value, Vector256.Create(d0, d1, d2, d3), d4);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Slopes operator +(Slopes a, Slopes b) => new(a.Value + b.Value, a.first + b.first, a.last + b.last);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Slopes operator -(Slopes a, Slopes b) => new(a.Value - b.Value, a.first - b.first, a.last - b.last);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Slopes operator *(Slopes a, Slopes b) =>
        new(a.Value * b.Value, a.first * b.Value + b.first * a.Value, a.last * b.Value + a.Value * b.last);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Slopes operator /(Slopes a, Slopes b)
    {
        var (q, r) = (a.Value / b.Value, 1 / b.Value);
        return new(q, (a.first - b.first * q) * r, (a.last - q * b.last) * r);
    }

    /// <summary>The larger of a number and zero with its corner rounded off: <c>(x + sqrt(x^2 + w^2))/2</c>.</summary>
    public static Slopes Positive(Slopes x, double width)
    {
        var root = Math.Sqrt(x.Value * x.Value + width * width);
        return x.Chain((x.Value + root) / 2, (1 + x.Value / root) / 2);
    }

    /// <summary>The lesser of two, the corner rounded off over a width.</summary>
    public static Slopes Least(Slopes a, Slopes b, double width) => b - Positive(b - a, width);

    /// <summary>The lesser of two; a parabola rounds the corner off where they are within a width of each other, and nowhere else.</summary>
    public static Slopes Lesser(Slopes a, Slopes b, double width)
    {
        var gap = b - a;
        var x = Math.Clamp(gap.Value, -width, width) + width;
        return b - (gap.Value >= width ? gap : gap.Chain(x * x / (4 * width), x / (2 * width)));
    }

    /// <summary>Zero below 0, one above 1, and a cubic between that joins both with their slopes.</summary>
    public static Slopes Fade(Slopes x)
    {
        var t = Math.Clamp(x.Value, 0, 1);
        return x.Chain(t * t * (3 - 2 * t), 6 * t * (1 - t));
    }

    /// <summary>The sine of a number in radians.</summary>
    public static Slopes Sin(Slopes x)
    {
        var (sin, cos) = Math.SinCos(x.Value);
        return x.Chain(sin, cos);
    }

    /// <summary>The cosine of a number in radians.</summary>
    public static Slopes Cos(Slopes x)
    {
        var (sin, cos) = Math.SinCos(x.Value);
        return x.Chain(cos, -sin);
    }

    /// <summary>The exponential of a number.</summary>
    public static Slopes Exp(Slopes x)
    {
        var e = Math.Exp(x.Value);
        return x.Chain(e, e);
    }

    private Slopes Chain(double value, double slope) => new(value, first * slope, slope * last);
}
