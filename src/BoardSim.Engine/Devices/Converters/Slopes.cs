namespace BoardSim.Engine.Devices.Converters;

/// <summary>A number with its derivatives with respect to five quantities: laws of several steps are differentiated as they are computed.</summary>
internal readonly struct Slopes
{
    private readonly double d0, d1, d2, d3, d4;

    private Slopes(double value, double d0, double d1, double d2, double d3, double d4)
    {
        Value = value;
        (this.d0, this.d1, this.d2, this.d3, this.d4) = (d0, d1, d2, d3, d4);
    }

    /// <summary>The number.</summary>
    public double Value { get; }

    /// <summary>Its derivative with respect to a quantity, from 0.</summary>
    public double this[int quantity] => quantity switch
    {
        0 => d0,
        1 => d1,
        2 => d2,
        3 => d3,
        _ => d4,
    };

    public static implicit operator Slopes(double value) => new(value, 0, 0, 0, 0, 0);

    /// <summary>One of the quantities themselves.</summary>
    public static Slopes Of(double value, int quantity) => new(
        value, quantity == 0 ? 1 : 0, quantity == 1 ? 1 : 0, quantity == 2 ? 1 : 0, quantity == 3 ? 1 : 0, quantity == 4 ? 1 : 0);

    /// <summary>A number with derivatives that are known.</summary>
    public static Slopes With(double value, double d0, double d1, double d2, double d3, double d4) => new(value, d0, d1, d2, d3, d4);

    public static Slopes operator +(Slopes a, Slopes b) => new(a.Value + b.Value, a.d0 + b.d0, a.d1 + b.d1, a.d2 + b.d2, a.d3 + b.d3, a.d4 + b.d4);

    public static Slopes operator -(Slopes a, Slopes b) => new(a.Value - b.Value, a.d0 - b.d0, a.d1 - b.d1, a.d2 - b.d2, a.d3 - b.d3, a.d4 - b.d4);

    public static Slopes operator *(Slopes a, Slopes b) => new(
        a.Value * b.Value,
        a.d0 * b.Value + a.Value * b.d0,
        a.d1 * b.Value + a.Value * b.d1,
        a.d2 * b.Value + a.Value * b.d2,
        a.d3 * b.Value + a.Value * b.d3,
        a.d4 * b.Value + a.Value * b.d4);

    public static Slopes operator /(Slopes a, Slopes b)
    {
        var (q, r) = (a.Value / b.Value, 1 / b.Value);
        return new(q, (a.d0 - q * b.d0) * r, (a.d1 - q * b.d1) * r, (a.d2 - q * b.d2) * r, (a.d3 - q * b.d3) * r, (a.d4 - q * b.d4) * r);
    }

    /// <summary>The larger of a number and zero with its corner rounded off: <c>(x + sqrt(x^2 + w^2))/2</c>.</summary>
    public static Slopes Positive(Slopes x, double width)
    {
        var root = Math.Sqrt(x.Value * x.Value + width * width);
        return x.Chain((x.Value + root) / 2, (1 + x.Value / root) / 2);
    }

    /// <summary>The lesser of two, the corner rounded off over a width.</summary>
    public static Slopes Least(Slopes a, Slopes b, double width) => b - Positive(b - a, width);

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

    private Slopes Chain(double value, double slope) => new(value, slope * d0, slope * d1, slope * d2, slope * d3, slope * d4);
}
