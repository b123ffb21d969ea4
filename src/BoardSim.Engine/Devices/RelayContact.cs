using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Contact of a relay; terminals: first, second. It follows the <see cref="RelayCoil"/> of the name it is given.</summary>
public sealed class RelayContact : Device, ICurrent
{
    private int a, b, aa, ab, ba, bb;
    private double conductance;
    private RelayCoil? coil;

    /// <summary>Creates a contact.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="coil">Name of the coil that moves it.</param>
    public RelayContact(string name, string first, string second, string coil)
        : base(name, first, second) => Coil = coil;

    /// <summary>Name of the coil that moves the contact.</summary>
    public string Coil { get; set; }

    /// <summary>True for a contact that is closed while the armature is released.</summary>
    public bool IsNormallyClosed { get; set; }

    /// <summary>Resistance in ohms when closed, positive; worn contacts have more.</summary>
    public double OnResistance { get; set; } = 0.01;

    /// <summary>Resistance in ohms when open, positive.</summary>
    public double OffResistance { get; set; } = 1e9;

    /// <summary>True while the contact is closed.</summary>
    public bool IsClosed => coil is null ? IsNormallyClosed : IsNormallyClosed ? coil.IsResting : coil.IsMade;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Coil = nameOf(Coil);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        coil = binder.Other<RelayCoil>(Coil);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = conductance = 1 / (IsClosed ? OnResistance : OffResistance);
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.Positive(Name, ("on resistance", OnResistance), ("off resistance", OffResistance));

    /// <inheritdoc/>
    protected override void Detach() => coil = null;
}
