using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Switch controlled by a branch current (SPICE: W); terminals: positive, negative. It turns on when the control current rises
/// above threshold plus hysteresis, off when it falls below threshold minus hysteresis; its resistance jumps.
/// </summary>
public sealed class CurrentSwitch : Device, IDiscrete, ICurrent
{
    private int a, b, control;
    private int aa, ab, ba, bb;
    private double conductance;

    /// <summary>Creates a switch.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">First node.</param>
    /// <param name="negative">Second node.</param>
    /// <param name="controlDevice">Name of the voltage source or inductor whose current controls.</param>
    /// <param name="model">Parameters, threshold and hysteresis in amperes.</param>
    public CurrentSwitch(string name, string positive, string negative, string controlDevice, SwitchModel model)
        : base(name, positive, negative)
    {
        ControlDevice = controlDevice;
        Model = model;
    }

    /// <summary>Parameters.</summary>
    public SwitchModel Model { get; set; }

    /// <summary>Name of the voltage source or inductor whose current controls.</summary>
    public string ControlDevice { get; set; }

    /// <summary>State at the start of a run; it decides where the control lies within the hysteresis band.</summary>
    public bool InitiallyOn { get; set; }

    /// <summary>True while the switch conducts with its on resistance.</summary>
    public bool IsOn { get; private set; }

    /// <inheritdoc/>
    public int GuardCount => 1;

    /// <inheritdoc/>
    public object Memory
    {
        get => IsOn;
        set => IsOn = (bool)value;
    }

    /// <inheritdoc/>
    public string StateName => IsOn ? "on" : "off";

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        ControlDevice = nameOf(ControlDevice);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        control = binder.BranchOf(ControlDevice);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = conductance = 1 / (IsOn ? Model.OnResistance : Model.OffResistance);
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var beyond = x[control] - Model.Threshold;
        values[0] = (IsOn ? -beyond : beyond) - Model.Band;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => IsOn = !IsOn;

    /// <inheritdoc/>
    public void Reset() => IsOn = InitiallyOn;

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Model.Problems(Name);
}
