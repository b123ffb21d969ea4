using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>What all contacts of a relay have: a resistance that is small or large, and the <see cref="RelayCoil"/> that they follow by its name. Terminals: first, second.</summary>
public abstract class CoilContact : Device, ICurrent
{
    private int aa, ab, ba, bb;
    private RelayCoil? coil;

    private protected CoilContact(string name, string first, string second, string coil)
        : base(name, first, second) => Coil = coil;

    /// <summary>Name of the coil that moves the contact.</summary>
    public string Coil { get; set; }

    /// <summary>True for a contact that is closed while the armature is released.</summary>
    public bool IsNormallyClosed { get; set; }

    /// <summary>Resistance in ohms when closed, positive; worn contacts have more.</summary>
    public double OnResistance { get; set; } = 0.01;

    /// <summary>Resistance in ohms when open, positive.</summary>
    public double OffResistance { get; set; } = 1e9;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <summary>True while the armature presses it shut.</summary>
    private protected bool Touches => coil is null ? IsNormallyClosed : IsNormallyClosed ? coil.IsResting : coil.IsMade;

    /// <summary>When the armature changed last, in seconds; null without a coil.</summary>
    private protected double? MovedAt => coil?.ChangedAt;

    /// <summary>True while it carries current, by metal or by an arc.</summary>
    private protected abstract bool Conducts { get; }

    /// <summary>Its conductance in siemens since the last stamp.</summary>
    private protected double Conductance { get; private set; }

    private protected int First { get; private set; }

    private protected int Second { get; private set; }

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Coil = nameOf(Coil);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        var (a, b) = (First, Second) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        coil = binder.Other<RelayCoil>(Coil);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = Conductance = 1 / (Conducts ? OnResistance : OffResistance);
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public virtual double Current(ReadOnlySpan<double> x) => (x[First] - x[Second]) * Conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Ranges.Positive(Name, ("on resistance", OnResistance), ("off resistance", OffResistance));

    /// <inheritdoc/>
    protected override void Detach() => coil = null;
}
