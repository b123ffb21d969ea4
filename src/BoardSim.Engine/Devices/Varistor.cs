using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Metal-oxide varistor; terminals: first, second. Law <c>I = K V^alpha</c>, odd about zero (Harris/Littelfuse application note
/// AN9768, 1998), held as one point of the curve and the exponent because K underflows for large exponents. Above
/// <see cref="LargestCurrent"/> the curve is continued as its tangent.
/// </summary>
public sealed class Varistor : Device, ICurrent
{
    /// <summary>Current in amperes up to which the power law is followed: no part survives it.</summary>
    public const double LargestCurrent = 1e6;

    private int a, b, aa, ab, ba, bb;
    private double top, last;

    /// <summary>Creates a varistor from a point of its curve and the exponent.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="referenceVoltage">Voltage in volts at the reference current, positive; data sheets give it at 1 mA.</param>
    /// <param name="referenceCurrent">Reference current in amperes, positive.</param>
    /// <param name="exponent">Exponent alpha, above 1; 15 to 50 for zinc oxide.</param>
    public Varistor(string name, string first, string second, double referenceVoltage, double referenceCurrent, double exponent)
        : base(name, first, second)
    {
        ReferenceVoltage = referenceVoltage;
        ReferenceCurrent = referenceCurrent;
        Exponent = exponent;
    }

    /// <summary>Voltage in volts at the reference current, positive.</summary>
    public double ReferenceVoltage { get; set; }

    /// <summary>Reference current in amperes, positive.</summary>
    public double ReferenceCurrent { get; set; }

    /// <summary>Exponent alpha, above 1.</summary>
    public double Exponent { get; set; }

    /// <summary>Capacitance of the disc in farads, zero or more.</summary>
    public double Capacitance { get; set; }

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <summary>Creates a varistor from two points of its data sheet, the varistor voltage and a clamping voltage, say:
    /// <c>alpha = ln(I2/I1) / ln(V2/V1)</c> (AN9768).</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="lowVoltage">Voltage in volts at the low current, positive.</param>
    /// <param name="lowCurrent">Low current in amperes, positive.</param>
    /// <param name="highVoltage">Voltage in volts at the high current, above the low voltage.</param>
    /// <param name="highCurrent">High current in amperes, above the low current.</param>
    /// <exception cref="ArgumentException">The points do not rise.</exception>
    public static Varistor FromPoints(
        string name, string first, string second, double lowVoltage, double lowCurrent, double highVoltage, double highCurrent)
    {
        if (!(lowVoltage > 0 && highVoltage > lowVoltage && lowCurrent > 0 && highCurrent > lowCurrent))
        {
            throw new ArgumentException(
                $"{name}: points {lowVoltage} V, {lowCurrent} A and {highVoltage} V, {highCurrent} A; both voltage and current must rise from the first to the second and be positive.");
        }

        return new(name, first, second, lowVoltage, lowCurrent, Math.Log(highCurrent / lowCurrent) / Math.Log(highVoltage / lowVoltage));
    }

    /// <summary>Creates a varistor from K and alpha.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="coefficient">Coefficient K: the current in amperes that the law gives at 1 V, positive.</param>
    /// <param name="exponent">Exponent alpha, above 1.</param>
    public static Varistor FromCoefficient(string name, string first, string second, double coefficient, double exponent) =>
        new(name, first, second, Math.Exp(-Math.Log(coefficient) / exponent), 1, exponent);

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        top = ReferenceVoltage * Math.Exp(Math.Log(LargestCurrent / ReferenceCurrent) / Exponent);
        Pair(loads.C, Capacitance);
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var vx = loads.X[a] - loads.X[b];
        var v = loads.Limiting ? Limit(vx, loads) : vx;
        Conduct(v, out var i, out var g);
        i += loads.Gmin * v;
        g += loads.Gmin;
        i += g * (vx - v);
        loads.F[a] += i;
        loads.F[b] -= i;
        Pair(loads.G, g);
    }

    /// <summary>Conduction current in amperes from first to second node, without that of the capacitance.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        Conduct(x[a] - x[b], out var i, out _);
        return i;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(Name, ("reference voltage", ReferenceVoltage), ("reference current", ReferenceCurrent))
            .Concat(Ranges.NotNegative(Name, ("capacitance", Capacitance))))
        {
            yield return problem;
        }

        if (!(Exponent > 1 && double.IsFinite(Exponent)))
        {
            yield return $"{Name}: exponent {Exponent}; it must be above 1 and finite (15 to 50 for zinc oxide).";
        }
    }

    private void Conduct(double v, out double i, out double g)
    {
        var size = Math.Abs(v);
        if (size == 0)
        {
            i = g = 0;
            return;
        }

        var within = Math.Min(size, top);
        i = ReferenceCurrent * Math.Exp(Exponent * Math.Log(within / ReferenceVoltage));
        g = Exponent * i / within;
        i = Math.CopySign(i + g * (size - within), v);
    }

    /// <summary>Beyond the reference voltage a rising step is taken in the logarithm of the current, which doubles every few volts.</summary>
    private double Limit(double next, Loads loads)
    {
        if (!loads.Fresh)
        {
            var size = Math.Abs(next);
            var from = Math.Max(ReferenceVoltage, next * last > 0 ? Math.Abs(last) : 0);
            var scale = from / Exponent;
            if (size > from + 2 * scale)
            {
                next = Math.CopySign(from + scale * Math.Log(1 + (size - from) / scale), next);
                loads.Limited = true;
            }
        }

        return last = next;
    }

    private void Pair(double[] matrix, double value)
    {
        matrix[aa] += value;
        matrix[ab] -= value;
        matrix[ba] -= value;
        matrix[bb] += value;
    }
}
