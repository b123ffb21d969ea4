using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Fuse; terminals: first, second. Its element is heated by <c>I^2</c> and cooled by its body, and the body by the air:
/// <c>C1 dT1/dt = I^2 - (T1 - T2)/R1</c>, <c>C2 dT2/dt = (T1 - T2)/R1 - T2/R2</c>, temperatures as shares of the one at which it melts; it is open from then
/// on. A short pulse melts it by its melting I2t, which is C1, a steady current above <c>1/sqrt(R1 + R2)</c> in the end, a lesser one never. How the
/// body shares in both is set so that a time-lag fuse passes the gates of IEC 60127-2 between (a fit, no source). The arc after
/// melting is left out.
/// </summary>
public sealed class Fuse : Device, IDiscrete, ICurrent, IInitial, IStates
{
    // Share of the thermal resistance between element and body, and the body's heat capacity in units of the element's.
    private const double ElementShare = 0.28;
    private const double BodyCapacity = 16;

    private int a, b, e, w;
    private int aa, ab, ba, bb, ea, eb, ee, ew, we, ww;
    private double conductance;
    private bool isOpen;

    /// <summary>Creates a fuse.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="coldResistance">Resistance in ohms, positive.</param>
    /// <param name="meltingIntegral">Melting I2t in ampere squared seconds, positive.</param>
    /// <param name="steadyCurrent">Current in amperes that just melts it in the end, positive: 1.5 to 1.8 times the rated one as a rule.</param>
    public Fuse(string name, string first, string second, double coldResistance, double meltingIntegral, double steadyCurrent)
        : base(name, first, second)
    {
        ColdResistance = coldResistance;
        MeltingIntegral = meltingIntegral;
        SteadyCurrent = steadyCurrent;
    }

    /// <summary>Resistance in ohms, positive.</summary>
    public double ColdResistance { get; set; }

    /// <summary>Melting I2t in ampere squared seconds, positive.</summary>
    public double MeltingIntegral { get; set; }

    /// <summary>Current in amperes that just melts it in the end, positive.</summary>
    public double SteadyCurrent { get; set; }

    /// <summary>Resistance in ohms after melting, positive.</summary>
    public double OpenResistance { get; set; } = 100e6;

    /// <summary>True when it has melted.</summary>
    public bool IsOpen => isOpen;

    /// <inheritdoc/>
    public int GuardCount => 1;

    /// <inheritdoc/>
    public string StateName => isOpen ? "open" : "whole";

    /// <inheritdoc/>
    public object Memory
    {
        get => isOpen;
        set => isOpen = (bool)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["melted-share", "open"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b, e];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));

        e = binder.Internal("melting", UnknownKind.Other);
        w = binder.Internal("body", UnknownKind.Other);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        (ea, eb, ee) = (binder.Slot(e, a), binder.Slot(e, b), binder.Slot(e, e));
        (ew, we, ww) = (binder.Slot(e, w), binder.Slot(w, e), binder.Slot(w, w));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = conductance = 1 / (isOpen ? OpenResistance : ColdResistance);
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
        var perResistance = SteadyCurrent * SteadyCurrent / MeltingIntegral;
        var (inner, outer) = (perResistance / ElementShare, perResistance / (1 - ElementShare));
        loads.G[ee] += inner;
        loads.G[ew] -= inner;
        loads.C[ee] += 1;
        loads.G[we] -= inner;
        loads.G[ww] += inner + outer;
        loads.C[ww] += BodyCapacity;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var i = (loads.X[a] - loads.X[b]) * conductance;
        loads.F[e] -= i * i / MeltingIntegral;
        var slope = 2 * i * conductance / MeltingIntegral;
        loads.G[ea] -= slope;
        loads.G[eb] += slope;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values) => values[0] = isOpen ? -1 : x[e] - 1;

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => isOpen = true;

    /// <inheritdoc/>
    public void Reset() => isOpen = false;

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        initial.Value(e, 0);
        initial.Value(w, 0);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state == 0 ? x[e] : isOpen ? 1 : 0;

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Ranges.Positive(
        Name,
        ("cold resistance", ColdResistance),
        ("melting I2t", MeltingIntegral),
        ("steady current", SteadyCurrent),
        ("open resistance", OpenResistance));
}
