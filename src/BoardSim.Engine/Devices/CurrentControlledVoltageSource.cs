using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Voltage source controlled by a branch current (SPICE: H); terminals: positive, negative. Its own current is counted from
/// positive to negative inside the part.</summary>
public sealed class CurrentControlledVoltageSource : Device, ICurrent, IBranch
{
    private int p, n, i;
    private int pi, ni, ip, inn, ic;

    /// <summary>Creates a source of <paramref name="transresistance"/> times the control current.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="controlDevice">Name of the voltage source or inductor whose current controls.</param>
    /// <param name="transresistance">Volts per ampere, finite.</param>
    public CurrentControlledVoltageSource(string name, string positive, string negative, string controlDevice, double transresistance)
        : base(name, positive, negative)
    {
        ControlDevice = controlDevice;
        Transresistance = transresistance;
    }

    /// <summary>Name of the voltage source or inductor whose current controls.</summary>
    public string ControlDevice { get; set; }

    /// <summary>Volts per ampere, finite.</summary>
    public double Transresistance { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.VoltageDefined)];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        ControlDevice = nameOf(ControlDevice);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        n = binder.Node(Nodes[1]);
        i = binder.Branch();
        (pi, ni, ip, inn) = (binder.Slot(p, i), binder.Slot(n, i), binder.Slot(i, p), binder.Slot(i, n));
        ic = binder.Slot(i, binder.BranchOf(ControlDevice));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[pi] += 1;
        loads.G[ni] -= 1;
        loads.G[ip] += 1;
        loads.G[inn] -= 1;
        loads.G[ic] -= Transresistance;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        double.IsFinite(Transresistance) ? [] : [$"{Name}: transresistance {Transresistance} ohm; it must be finite."];
}
