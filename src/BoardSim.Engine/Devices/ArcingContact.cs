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
public sealed class ArcingContact : CoilContact, IDiscrete, IStates
{
    private const int PartingGuard = 0;
    private const int ClosingGuard = 1;
    private const int OutGuard = 2;

    private Gap gap;

    /// <summary>Creates a contact.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="coil">Name of the coil that moves it.</param>
    public ArcingContact(string name, string first, string second, string coil)
        : base(name, first, second, coil)
    {
    }

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
    public override IReadOnlyList<int>? ExcitedRows => [First, Second];

    // While an arc burns the closed contact's resistance lies beside its voltage.
    private protected override bool Conducts => gap.IsClosed || gap.Arc != 0;

    /// <inheritdoc/>
    public override void Excite(Loads loads)
    {
        var amperes = gap.Arc * ArcVoltage * Conductance;
        loads.F[First] -= amperes;
        loads.F[Second] += amperes;
    }

    // A guard that is beyond zero right after an event is never heard, and coil and arc change theirs at one; so each speaks up only once time has passed since.
    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var moved = MovedAt is not { } at || time <= 0 || time > at;
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
    public override double Current(ReadOnlySpan<double> x) => base.Current(x) - gap.Arc * ArcVoltage * Conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        [.. base.Problems(), .. Ranges.Positive(Name, ("arc voltage", ArcVoltage), ("least current of an arc", LeastCurrent))];

    /// <summary>Whether the contact touches, the sign of the arc's current, and since when.</summary>
    private readonly record struct Gap(bool IsClosed, int Arc, double Since);
}
