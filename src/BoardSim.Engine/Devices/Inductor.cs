using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Inductor; terminals: dotted end, other end. Its branch law is <c>v - d(L i)/dt = 0</c>.</summary>
public sealed class Inductor : Device, IInitial, ICurrent, IBranch
{
    private int a, b, i, ai, bi, ia, ib, ii;

    /// <summary>Creates an inductor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="dotted">Dotted end, where a positive current enters.</param>
    /// <param name="other">Other end.</param>
    /// <param name="henries">Inductance in henries, positive.</param>
    public Inductor(string name, string dotted, string other, double henries)
        : base(name, dotted, other) => Inductance = henries;

    /// <summary>Inductance in henries, positive.</summary>
    public double Inductance { get; set; }

    /// <summary>Series resistance of the winding in ohms, zero or more.</summary>
    public double SeriesResistance { get; set; }

    /// <summary>Start current in amperes for a run from initial conditions; null when it is not given.</summary>
    public double? InitialCurrent { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links =>
        [new(0, 1, SeriesResistance > 0 ? LinkKind.Conductive : LinkKind.Inductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        i = binder.Branch();
        (ai, bi, ia, ib, ii) = (binder.Slot(a, i), binder.Slot(b, i), binder.Slot(i, a), binder.Slot(i, b), binder.Slot(i, i));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[ai] += 1;
        loads.G[bi] -= 1;
        loads.G[ia] += 1;
        loads.G[ib] -= 1;
        loads.G[ii] -= SeriesResistance;
        loads.C[ii] -= Inductance;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        if (InitialCurrent is { } amperes)
        {
            initial.Value(i, amperes);
        }
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Inductance > 0 && double.IsFinite(Inductance)))
        {
            yield return $"{Name}: inductance {Inductance} H; it must be positive and finite.";
        }

        if (!(SeriesResistance >= 0 && double.IsFinite(SeriesResistance)))
        {
            yield return $"{Name}: series resistance {SeriesResistance} ohm; it must be zero or more and finite.";
        }
    }
}
