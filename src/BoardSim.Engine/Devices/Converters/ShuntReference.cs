using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// Adjustable shunt reference; terminals: reference, anode, cathode. Above the reference voltage it draws cathode current with a high
/// transconductance, as long as its cathode has the voltage to work with:
/// <c>a = sat(gm s(v_ref - Vref))</c> with a soft corner <c>s</c> of some millivolts is what the input asks for, <c>k = g s(v_ka - Vmin)</c> what a cathode near its
/// least voltage can carry; the current is <c>a k / (a + k)</c>, plus what it needs for itself. Terms as in the data sheets of such parts (common
/// practice, no source).
/// </summary>
public sealed class ShuntReference : Device, ICurrent
{
    // Width in volts of the corner at the reference voltage; with the transconductance it makes the knee below the least cathode current.
    private const double Corner = 1.5e-3;

    // Voltage over which the cathode comes out of saturation.
    private const double KneeVoltage = 0.15;

    // Slope in siemens of the cathode's current above its least voltage, as far as the input asks for it.
    private const double KneeConductance = 0.2;

    // Widths of the corner that an iterate may rise at once from the foot of the law; below the foot it is free.
    private const double Stride = 2;

    // Widths of the knee that an iterate may fall at once past the bend of the cathode's law.
    private const double Fall = 2;

    private double last;
    private double lastCathode;
    private int rf, an, ca;
    private int rr, ra, ar, aa, ac, cr, cca, cc;

    /// <summary>Creates a reference.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="reference">Reference pin.</param>
    /// <param name="anode">Anode, the lower side.</param>
    /// <param name="cathode">Cathode.</param>
    /// <param name="volts">Reference voltage in volts, positive.</param>
    public ShuntReference(string name, string reference, string anode, string cathode, double volts)
        : base(name, reference, anode, cathode) => Voltage = volts;

    /// <summary>Reference voltage in volts, positive.</summary>
    public double Voltage { get; set; }

    /// <summary>Transconductance from reference pin to cathode in siemens, positive.</summary>
    public double Transconductance { get; set; } = 1.2;

    /// <summary>Largest cathode current in amperes, positive.</summary>
    public double LargestCurrent { get; set; } = 0.1;

    /// <summary>Cathode voltage in volts below which it cannot pull its cathode, positive.</summary>
    public double LeastVoltage { get; set; } = 2;

    /// <summary>Resistance in ohms of the reference pin to the anode, positive: some microamperes of input current.</summary>
    public double InputResistance { get; set; } = 1.2e6;

    /// <summary>Resistance in ohms from cathode to anode that its own supply current makes, positive.</summary>
    public double IdleResistance { get; set; } = 50e3;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [rf, an, ca];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (rf, an, ca) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]));
        (rr, ra, ar, aa) = (binder.Slot(rf, rf), binder.Slot(rf, an), binder.Slot(an, rf), binder.Slot(an, an));
        (ac, cr, cca, cc) = (binder.Slot(an, ca), binder.Slot(ca, rf), binder.Slot(ca, an), binder.Slot(ca, ca));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = 1 / InputResistance;
        loads.G[rr] += g;
        loads.G[ra] -= g;
        loads.G[ar] -= g;
        loads.G[aa] += g;
        var idle = 1 / IdleResistance;
        loads.G[cc] += idle;
        loads.G[cca] -= idle;
        loads.G[ac] -= idle;
        loads.G[aa] += idle;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var reference = x[rf] - x[an];
        var at = loads.Limiting ? Limit(reference, loads) : reference;
        var cathode = x[ca] - x[an];
        var above = loads.Limiting ? StopAtBend(cathode, at, loads) : cathode;
        Pull(at, above, out var i, out var gr, out var gc);
        i += gr * (reference - at) + gc * (cathode - above);
        loads.F[ca] += i;
        loads.F[an] -= i;
        loads.G[cr] += gr;
        loads.G[cc] += gc;
        loads.G[cca] -= gr + gc;
        loads.G[ar] -= gr;
        loads.G[ac] -= gc;
        loads.G[aa] += gr + gc;
    }

    /// <summary>Current in amperes that the reference draws at its cathode, its own supply current included.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        Pull(x[rf] - x[an], x[ca] - x[an], out var i, out _, out _);
        return i + (x[ca] - x[an]) / IdleResistance;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Ranges.Positive(
        Name,
        ("reference voltage", Voltage),
        ("transconductance", Transconductance),
        ("largest current", LargestCurrent),
        ("least cathode voltage", LeastVoltage),
        ("input resistance", InputResistance),
        ("idle resistance", IdleResistance));

    /// <summary>
    /// What is asked for rises like an exponential below the corner and saturates far above it: a tangent at one end throws the iterate past the other, and
    /// back. Upwards it is limited as a junction is, by the logarithm of the way in widths of the corner (Nagel, SPICE2, 1975; from memory); downwards from the
    /// saturated end it goes no further than the straight part, whose tangent is to be trusted.
    /// </summary>
    private double Limit(double v, Loads loads)
    {
        if (loads.Fresh)
        {
            return last = v;
        }

        var saturation = LargestCurrent / (Transconductance * Corner);
        var (to, from) = ((v - Voltage) / Corner, (last - Voltage) / Corner);
        var foot = Math.Max(from, -Stride);
        if (from < 2 * Stride && to > foot + Stride)
        {
            v = Voltage + Corner * (foot + Stride * (1 + Math.Log((to - foot) / Stride)));
            loads.Limited = true;
        }
        else if (from > saturation && to < 0.5 * saturation)
        {
            v = Voltage + Corner * 0.5 * saturation;
            loads.Limited = true;
        }

        return last = v;
    }

    /// <summary>
    /// Over the cathode's voltage the law is flat on both sides of a bend: a current above it, nothing below. From above, the tangent of a reference that is
    /// driven hard throws the iterate far below, where nothing pulls, and the circuit throws it back. On its way down it is stopped at the bend; from there
    /// on the law is hollow on one side and domed on the other, and Newton's steps come from one side only. Below it goes on by steps that double: the input, which moves
    /// as well, may have asked for less at the bend than it does in the end.
    /// </summary>
    private double StopAtBend(double cathode, double reference, Loads loads)
    {
        if (!loads.Fresh && lastCathode > cathode && cathode < LeastVoltage - Fall * KneeVoltage)
        {
            // Where the input asks for little, the bend lies in the tail: there what the cathode can carry is as much as what is asked for.
            var ask = Transconductance * Corner * Soft((reference - Voltage) / Corner) / (KneeConductance * KneeVoltage);
            var bend = LeastVoltage + KneeVoltage * Math.Clamp(Math.Log(ask), -40, 0);
            var lowest = lastCathode > bend ? bend : lastCathode - (Fall * KneeVoltage + bend - lastCathode);
            if (cathode < Math.Min(lowest, bend - Fall * KneeVoltage))
            {
                loads.Limited = true;
                return lastCathode = lowest;
            }
        }

        return lastCathode = cathode;
    }

    private void Pull(double reference, double cathode, out double i, out double gr, out double gc)
    {
        // Soft corner, then saturation towards the largest current.
        var u = (reference - Voltage) / Corner;
        var soft = Soft(u);
        var softSlope = u > 40 ? 1 : 1 / (1 + Math.Exp(-u));
        var asked = Transconductance * Corner * soft / LargestCurrent;
        var full = LargestCurrent * Math.Tanh(asked);
        var share = full / LargestCurrent;
        var fullSlope = (1 - share * share) * Transconductance * softSlope;

        // The tail below the least voltage never ends, so that an iterate that lies there finds its way back.
        var over = (cathode - LeastVoltage) / KneeVoltage;
        var tail = Soft(Math.Max(over, -40));
        var able = KneeConductance * KneeVoltage * tail;
        var ableSlope = KneeConductance * (over > 40 ? 1 : 1 / (1 + Math.Exp(-over)));
        var part = able / (full + able);
        var rest = full / (full + able);
        i = full * part;
        gr = fullSlope * part * part;
        gc = ableSlope * rest * rest;
    }

    /// <summary><c>ln(1 + exp(u))</c>; far below zero by its series, since one and next to nothing, added, make steps that Newton cannot follow.</summary>
    private static double Soft(double u)
    {
        if (u > 40)
        {
            return u;
        }

        var e = Math.Exp(u);
        return u > -8 ? Math.Log(1 + e) : e * (1 - e * (0.5 - e / 3));
    }
}
