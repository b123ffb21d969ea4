using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Voltage source controlled by a voltage (SPICE: E); terminals: positive, negative, control positive, control negative.
/// Its current is counted from positive to negative inside the part.</summary>
public sealed class VoltageControlledVoltageSource : Device, ICurrent, IBranch
{
    private int p, n, i;
    private int pi, ni, ip, inn, icp, icn;

    /// <summary>Creates a source of <paramref name="gain"/> times the control voltage.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="controlPositive">Node that the control voltage is measured at.</param>
    /// <param name="controlNegative">Node that it is measured against.</param>
    /// <param name="gain">Volts per volt, finite.</param>
    public VoltageControlledVoltageSource(
        string name, string positive, string negative, string controlPositive, string controlNegative, double gain)
        : base(name, positive, negative, controlPositive, controlNegative) => Gain = gain;

    /// <summary>Volts per volt, finite.</summary>
    public double Gain { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.VoltageDefined)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        n = binder.Node(Nodes[1]);
        i = binder.Branch();
        (pi, ni, ip, inn) = (binder.Slot(p, i), binder.Slot(n, i), binder.Slot(i, p), binder.Slot(i, n));
        (icp, icn) = (binder.Slot(i, binder.Node(Nodes[2])), binder.Slot(i, binder.Node(Nodes[3])));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[pi] += 1;
        loads.G[ni] -= 1;
        loads.G[ip] += 1;
        loads.G[inn] -= 1;
        loads.G[icp] -= Gain;
        loads.G[icn] += Gain;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        double.IsFinite(Gain) ? [] : [$"{Name}: gain {Gain}; it must be finite."];
}
