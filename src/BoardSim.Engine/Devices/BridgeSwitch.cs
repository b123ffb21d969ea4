using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Switch of an H-bridge; terminals: first, second. It follows a <see cref="BridgeDriver"/> by its name: a low resistance while it is on, a high one
/// otherwise. The free-wheel diode is a part beside it.</summary>
public sealed class BridgeSwitch : Device, ICurrent
{
    private int a, b, aa, ab, ba, bb;
    private double conductance;
    private BridgeDriver? driver;

    /// <summary>Creates a switch.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="driver">Name of the driver.</param>
    /// <param name="gate">Which of its switches this is.</param>
    public BridgeSwitch(string name, string first, string second, string driver, BridgeGate gate)
        : base(name, first, second) => (Driver, Gate) = (driver, gate);

    /// <summary>Name of the driver.</summary>
    public string Driver { get; set; }

    /// <summary>Which of its switches this is.</summary>
    public BridgeGate Gate { get; set; }

    /// <summary>Resistance in ohms while on, positive.</summary>
    public double OnResistance { get; set; } = 0.4;

    /// <summary>Resistance in ohms while off, positive.</summary>
    public double OffResistance { get; set; } = 5e6;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        driver = binder.Other<BridgeDriver>(Driver);
    }

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Driver = nameOf(Driver);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = conductance = 1 / (driver!.IsOn(Gate) ? OnResistance : OffResistance);
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Ranges.Positive(Name, ("on resistance", OnResistance), ("off resistance", OffResistance));

    /// <inheritdoc/>
    protected override void Detach() => driver = null;
}
