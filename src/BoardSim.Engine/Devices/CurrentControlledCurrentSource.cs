using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Current source controlled by a branch current (SPICE: F); terminals: from, to. A positive current flows from the first node
/// through the source to the second.</summary>
public sealed class CurrentControlledCurrentSource : Device, ICurrent
{
    private int control;
    private int ac, bc;

    /// <summary>Creates a source of <paramref name="gain"/> times the control current.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="from">Node that the current is drawn from.</param>
    /// <param name="to">Node that it is pushed into.</param>
    /// <param name="controlDevice">Name of the voltage source or inductor whose current controls.</param>
    /// <param name="gain">Amperes per ampere, finite.</param>
    public CurrentControlledCurrentSource(string name, string from, string to, string controlDevice, double gain)
        : base(name, from, to)
    {
        ControlDevice = controlDevice;
        Gain = gain;
    }

    /// <summary>Name of the voltage source or inductor whose current controls.</summary>
    public string ControlDevice { get; set; }

    /// <summary>Amperes per ampere, finite.</summary>
    public double Gain { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.CurrentDefined)];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        ControlDevice = nameOf(ControlDevice);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        control = binder.BranchOf(ControlDevice);
        ac = binder.Slot(binder.Node(Nodes[0]), control);
        bc = binder.Slot(binder.Node(Nodes[1]), control);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[ac] += Gain;
        loads.G[bc] -= Gain;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => Gain * x[control];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        double.IsFinite(Gain) ? [] : [$"{Name}: gain {Gain}; it must be finite."];
}
