using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Current source controlled by a voltage (SPICE: G); terminals: from, to, control positive, control negative. A positive
/// current flows from the first node through the source to the second.</summary>
public sealed class VoltageControlledCurrentSource : Device, ICurrent
{
    private int cp, cn;
    private int acp, acn, bcp, bcn;

    /// <summary>Creates a source of <paramref name="transconductance"/> times the control voltage.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="from">Node that the current is drawn from.</param>
    /// <param name="to">Node that it is pushed into.</param>
    /// <param name="controlPositive">Node that the control voltage is measured at.</param>
    /// <param name="controlNegative">Node that it is measured against.</param>
    /// <param name="transconductance">Amperes per volt, finite.</param>
    public VoltageControlledCurrentSource(
        string name, string from, string to, string controlPositive, string controlNegative, double transconductance)
        : base(name, from, to, controlPositive, controlNegative) => Transconductance = transconductance;

    /// <summary>Amperes per volt, finite.</summary>
    public double Transconductance { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, IsConductance() ? LinkKind.Conductive : LinkKind.CurrentDefined)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        var a = binder.Node(Nodes[0]);
        var b = binder.Node(Nodes[1]);
        cp = binder.Node(Nodes[2]);
        cn = binder.Node(Nodes[3]);
        (acp, acn, bcp, bcn) = (binder.Slot(a, cp), binder.Slot(a, cn), binder.Slot(b, cp), binder.Slot(b, cn));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[acp] += Transconductance;
        loads.G[acn] -= Transconductance;
        loads.G[bcp] -= Transconductance;
        loads.G[bcn] += Transconductance;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => Transconductance * (x[cp] - x[cn]);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        double.IsFinite(Transconductance) ? [] : [$"{Name}: transconductance {Transconductance} S; it must be finite."];

    // Controlled by the voltage across itself it is a conductance, a customary way to write one.
    private bool IsConductance() => (Same(0, 2) && Same(1, 3)) || (Same(0, 3) && Same(1, 2));

    private bool Same(int one, int other) => string.Equals(Nodes[one], Nodes[other], StringComparison.OrdinalIgnoreCase);
}
