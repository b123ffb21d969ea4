using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Contact of a relay that draws an arc when it parts under current; terminals: first, second. It follows the <see cref="RelayCoil"/> of the name it is given, as <see cref="RelayContact"/> does, which breaks any current at once.
/// <para>
/// An arc in air needs a least current and a least voltage, by the contacts' metal: 0.4 A and 12 V for silver, 0.43 A and 13 V for copper (R. Holm, Electric Contacts, 4th edition, chapter on the arc; P. Slade, Electrical Contacts, 2nd
/// edition, chapter 9; from memory). Below that current the contact breaks at once. Above it the gap takes the arc's voltage against the current, whatever the current is, and the arc burns until the current has fallen to the least one: near its next zero
/// on alternating current; on direct current when the circuit does not give the arc its voltage any more, and for as long as the contact stays open when it does.
/// </para>
/// Left out: the arc's voltage growing with the gap, striking again after a zero, and what arcs do to the metal.
/// </summary>
public sealed class ArcingContact : Device, IDiscrete, ICurrent, IStates
{
    private const int PartingGuard = 0;
    private const int ClosingGuard = 1;
    private const int OutGuard = 2;

    private int a, b, aa, ab, ba, bb;
    private double conductance;
    private RelayCoil? coil;
    private Gap gap;

    /// <summary>Creates a contact.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="coil">Name of the coil that moves it.</param>
    public ArcingContact(string name, string first, string second, string coil)
        : base(name, first, second) => Coil = coil;

    /// <summary>Name of the coil that moves the contact.</summary>
    public string Coil { get; set; }

    /// <summary>True for a contact that is closed while the armature is released.</summary>
    public bool IsNormallyClosed { get; set; }

    /// <summary>Resistance in ohms when closed, and beside the arc's voltage while one burns, positive.</summary>
    public double OnResistance { get; set; } = 0.01;

    /// <summary>Resistance in ohms when open, positive.</summary>
    public double OffResistance { get; set; } = 1e9;

    /// <summary>Voltage of the arc in volts, positive: 12 V for silver just after parting, 20 to 30 V over a wide gap.</summary>
    public double ArcVoltage { get; set; } = 12;

    /// <summary>Current in amperes below which no arc burns, positive; 0.4 A for silver.</summary>
    public double LeastCurrent { get; set; } = 0.4;

    /// <inheritdoc/>
    public int GuardCount => 3;

    /// <inheritdoc/>
    public string StateName => gap.IsClosed ? "closed" : gap.Arc != 0 ? "arcing" : "open";

    /// <inheritdoc/>
    public object Memory
    {
        get => gap;
        set => gap = (Gap)value;
    }

    /// <summary>States: 1 while the contact touches, 1 while an arc burns.</summary>
    public IReadOnlyList<string> States { get; } = ["closed", "arcing"];

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [a, b];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    private bool Touches => coil is null ? IsNormallyClosed : IsNormallyClosed ? coil.IsResting : coil.IsMade;

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
        var g = conductance = 1 / (gap.IsClosed || gap.Arc != 0 ? OnResistance : OffResistance);
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public override void Excite(Loads loads)
    {
        var amperes = gap.Arc * ArcVoltage * conductance;
        loads.F[a] -= amperes;
        loads.F[b] += amperes;
    }

    // A guard that is beyond zero right after an event is never heard, and coil and arc change theirs at one; so each speaks up only once time has passed since.
    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var moved = coil is null || time <= 0 || time > coil.ChangedAt;
        values[PartingGuard] = gap.IsClosed && !Touches && moved ? 1 : -1;
        values[ClosingGuard] = !gap.IsClosed && Touches && moved ? 1 : -1;
        values[OutGuard] = gap.Arc != 0 && time > gap.Since ? LeastCurrent - gap.Arc * Current(x) : -LeastCurrent;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        var current = Current(x);
        gap = guard switch
        {
            ClosingGuard => new(true, 0, time),
            PartingGuard when time > 0 && Math.Abs(current) > LeastCurrent => new(false, Math.Sign(current), time),
            _ => new(false, 0, time),
        };
    }

    /// <inheritdoc/>
    public void Reset() => gap = default;

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => (state == 0 ? gap.IsClosed : gap.Arc != 0) ? 1 : 0;

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b] - gap.Arc * ArcVoltage) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.Positive(Name, ("on resistance", OnResistance), ("off resistance", OffResistance), ("arc voltage", ArcVoltage), ("least current of an arc", LeastCurrent));

    /// <inheritdoc/>
    protected override void Detach() => coil = null;

    /// <summary>Whether the contact touches, the sign of the arc's current, and since when.</summary>
    private readonly record struct Gap(bool IsClosed, int Arc, double Since);
}
