using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// Opto-coupler; terminals: anode, cathode, collector, emitter. The light follows the LED's current with one time constant; the transistor carries
/// <c>CTR(I) I_led</c>, less where its collector has no voltage to carry it with. The current transfer ratio falls towards small currents:
/// <c>CTR(I) = CTR0 (1 + I_k/I_0) I/(I + I_k)</c>, which is CTR0 at the rated LED current (definition of the ratio: IEC 60747-5-5; the
/// shape is a fit to typical curves, common practice, no source).
/// </summary>
public sealed class OptoCoupler : Device, IInitial
{
    private const double SaturationCurrent = 1e-13;
    private const double EmissionVoltage = 1.8 * 0.02585;
    private static readonly double CriticalVoltage = Junction.CriticalVoltage(SaturationCurrent, EmissionVoltage);

    // Collector-emitter voltage over which the transistor comes out of saturation.
    private const double KneeVoltage = 0.12;

    private int an, ca, co, em, light;
    private int aa, ac, cca, cc, la, lc, ll;
    private int oo, oe, ol, eo, ee, el;
    private double last;
    private double lastAcross;

    /// <summary>Creates an opto-coupler.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="anode">Anode of the LED.</param>
    /// <param name="cathode">Cathode of the LED.</param>
    /// <param name="collector">Collector of the transistor.</param>
    /// <param name="emitter">Emitter of the transistor.</param>
    /// <param name="transferRatio">Current transfer ratio at <see cref="RatedCurrent"/>, zero or more: 1 is 100 %.</param>
    public OptoCoupler(string name, string anode, string cathode, string collector, string emitter, double transferRatio)
        : base(name, anode, cathode, collector, emitter) => TransferRatio = transferRatio;

    /// <summary>Current transfer ratio at the rated current, zero or more.</summary>
    public double TransferRatio { get; set; }

    /// <summary>LED current in amperes that the ratio is given for, positive.</summary>
    public double RatedCurrent { get; set; } = 5e-3;

    /// <summary>LED current in amperes at which the ratio has fallen to half of its largest, zero or more.</summary>
    public double KneeCurrent { get; set; } = 0.5e-3;

    /// <summary>Bandwidth of light and transistor in hertz, positive.</summary>
    public double Bandwidth { get; set; } = 25e3;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [an, ca, co, em, light];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 3, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (an, ca, co, em) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]), binder.Node(Nodes[3]));
        light = binder.Internal("light", UnknownKind.Current);
        (aa, ac, cca, cc) = (binder.Slot(an, an), binder.Slot(an, ca), binder.Slot(ca, an), binder.Slot(ca, ca));
        (la, lc, ll) = (binder.Slot(light, an), binder.Slot(light, ca), binder.Slot(light, light));
        (oo, oe, ol) = (binder.Slot(co, co), binder.Slot(co, em), binder.Slot(co, light));
        (eo, ee, el) = (binder.Slot(em, co), binder.Slot(em, em), binder.Slot(em, light));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[ll] += 1;
        loads.C[ll] += 1 / (2 * Math.PI * Bandwidth);
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var vx = x[an] - x[ca];
        var v = loads.Limiting ? Limit(vx, loads) : vx;
        Junction.Diffusion(v, SaturationCurrent, EmissionVoltage, out var i, out var g);
        i += loads.Gmin * v;
        g += loads.Gmin;
        var (transferred, ratio) = Transfer(i);
        transferred += ratio * g * (vx - v);
        i += g * (vx - v);
        loads.F[an] += i;
        loads.F[ca] -= i;
        loads.G[aa] += g;
        loads.G[ac] -= g;
        loads.G[cca] -= g;
        loads.G[cc] += g;
        loads.F[light] -= transferred;
        loads.G[la] -= ratio * g;
        loads.G[lc] += ratio * g;

        var across = x[co] - x[em];
        var vce = loads.Limiting ? StopAtZero(across, loads) : across;
        var knee = Math.Tanh(vce / KneeVoltage);
        var open = vce >= 0 ? knee : ReverseShare * knee;
        var slope = (vce >= 0 ? 1 : ReverseShare) * (1 - knee * knee) / KneeVoltage;

        // Less than no light, which an error of the step may leave, would make a negative resistance.
        var lit = Math.Max(x[light], 0);
        var gc = lit * slope + loads.Gmin;
        var ic = lit * open + loads.Gmin * vce + gc * (across - vce);
        loads.F[co] += ic;
        loads.F[em] -= ic;
        loads.G[oo] += gc;
        loads.G[oe] -= gc;
        loads.G[eo] -= gc;
        loads.G[ee] += gc;
        if (lit > 0)
        {
            loads.G[ol] += open;
            loads.G[el] -= open;
        }
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial) => initial.Value(light, 0);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.NotNegative(Name, ("transfer ratio", TransferRatio), ("knee current", KneeCurrent))
            .Concat(Ranges.Positive(Name, ("rated current", RatedCurrent), ("bandwidth", Bandwidth)));

    // Reversed, the transistor's gain is small.
    private const double ReverseShare = 0.02;

    private (double Current, double Slope) Transfer(double i)
    {
        if (i <= 0)
        {
            return (0, 0);
        }

        var top = TransferRatio * (1 + KneeCurrent / RatedCurrent);
        var share = i / (i + KneeCurrent);
        return (top * share * i, top * share * (2 - share));
    }

    /// <summary>
    /// The transistor's law is flat on both sides of zero, so a tangent there throws the iterate across to the other side, and back, when the collector
    /// hangs on next to nothing. On its way across it is stopped at zero, where the law is steepest.
    /// </summary>
    private double StopAtZero(double next, Loads loads)
    {
        if (!loads.Fresh && next * lastAcross < 0 && Math.Abs(next - lastAcross) > 0.02 * KneeVoltage)
        {
            loads.Limited = true;
            return lastAcross = 0;
        }

        return lastAcross = next;
    }

    private double Limit(double next, Loads loads)
    {
        if (loads.Fresh)
        {
            return last = next;
        }

        var limited = false;
        last = Junction.Limit(next, last, EmissionVoltage, CriticalVoltage, ref limited);
        loads.Limited |= limited;
        return last;
    }
}
