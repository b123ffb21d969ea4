using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>Power switch of a converter; terminals: drain, source. It follows the <see cref="CurrentModeController"/> of the name it is given: a low resistance
/// while the gate is on, a high one otherwise. What its gate and its capacitances do is left to parts beside it.</summary>
public sealed class ControlledSwitch : Device, ICurrent
{
    private int a, b, aa, ab, ba, bb;
    private double conductance;
    private CurrentModeController? controller;

    /// <summary>Creates a switch.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="drain">Drain.</param>
    /// <param name="source">Source.</param>
    /// <param name="controller">Name of the controller.</param>
    /// <param name="onResistance">Resistance in ohms while on, positive.</param>
    public ControlledSwitch(string name, string drain, string source, string controller, double onResistance)
        : base(name, drain, source) => (Controller, OnResistance) = (controller, onResistance);

    /// <summary>Name of the controller.</summary>
    public string Controller { get; set; }

    /// <summary>Resistance in ohms while on, positive.</summary>
    public double OnResistance { get; set; }

    /// <summary>Resistance in ohms while off, positive.</summary>
    public double OffResistance { get; set; } = 20e6;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        controller = binder.Other<CurrentModeController>(Controller);
    }

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Controller = nameOf(Controller);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = conductance = 1 / (controller!.IsGateOn ? OnResistance : OffResistance);
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
    protected override void Detach() => controller = null;
}
