using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Start relay of a motor, moved by the run winding's current; terminals: coil in, coil out, contact, contact. The pull goes with the square of the current, and what it
/// moves is too heavy for a half-wave: <c>tau dm/dt = (i / Ipull)^2 - m</c>. The contact closes when m rises above one and opens when it falls below
/// <c>(Idrop / Ipull)^2</c>: RMS currents, for a sine. When it opens, an arc carries the contact's current on to its next zero; the arc's voltage is left out.
/// </summary>
public sealed class StartRelay : Device, IDiscrete, ICurrent, IInitial, IStates
{
    private const int ClosingGuard = 0;
    private const int OpeningGuard = 1;
    private const int ZeroGuard = 2;

    private int a, b, c, d, m, aa, ab, ba, bb, cc, cd, dc, dd, ma, mb, mm;
    private Contact arm;

    /// <summary>Creates a start relay.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="coil">Node where the run winding's current enters.</param>
    /// <param name="coilEnd">Node where it leaves.</param>
    /// <param name="contact">One node of the contact.</param>
    /// <param name="contactEnd">The other node of the contact.</param>
    /// <param name="pullInCurrent">RMS current in amperes above which the contact closes, positive.</param>
    /// <param name="dropOutCurrent">RMS current in amperes below which it opens, positive, below the other.</param>
    public StartRelay(string name, string coil, string coilEnd, string contact, string contactEnd, double pullInCurrent, double dropOutCurrent)
        : base(name, coil, coilEnd, contact, contactEnd) => (PullInCurrent, DropOutCurrent) = (pullInCurrent, dropOutCurrent);

    /// <summary>RMS current in amperes above which the contact closes, positive.</summary>
    public double PullInCurrent { get; set; }

    /// <summary>RMS current in amperes below which the contact opens, positive, below <see cref="PullInCurrent"/>.</summary>
    public double DropOutCurrent { get; set; }

    /// <summary>Resistance of the coil in ohms, positive; its inductance is left out beside the motor's.</summary>
    public double CoilResistance { get; set; } = 0.05;

    /// <summary>Time constant in seconds of what the current moves, positive.</summary>
    public double Sluggishness { get; set; } = 10e-3;

    /// <summary>Resistance of the closed contact in ohms, positive.</summary>
    public double OnResistance { get; set; } = 0.03;

    /// <summary>Resistance of the open contact in ohms, positive.</summary>
    public double OffResistance { get; set; } = 1e9;

    /// <summary>True while the contact is closed.</summary>
    public bool IsClosed => arm.Conducts;

    /// <inheritdoc/>
    public int GuardCount => 3;

    /// <inheritdoc/>
    public string StateName => !arm.Conducts ? "open" : arm.Parting != 0 ? "parting" : "closed";

    /// <inheritdoc/>
    public object Memory
    {
        get => arm;
        set => arm = (Contact)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["closed"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b, m];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 3, LinkKind.Conductive)];

    private double PerVolt => 1 / (CoilResistance * PullInCurrent);

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b, c, d) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]), binder.Node(Nodes[3]));
        m = binder.Internal("pull", UnknownKind.Other);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        (cc, cd, dc, dd) = (binder.Slot(c, c), binder.Slot(c, d), binder.Slot(d, c), binder.Slot(d, d));
        (ma, mb, mm) = (binder.Slot(m, a), binder.Slot(m, b), binder.Slot(m, m));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var coil = 1 / CoilResistance;
        loads.G[aa] += coil;
        loads.G[ab] -= coil;
        loads.G[ba] -= coil;
        loads.G[bb] += coil;
        var contact = 1 / (arm.Conducts ? OnResistance : OffResistance);
        loads.G[cc] += contact;
        loads.G[cd] -= contact;
        loads.G[dc] -= contact;
        loads.G[dd] += contact;
        loads.G[mm] += 1;
        loads.C[mm] += Sluggishness;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var share = (loads.X[a] - loads.X[b]) * PerVolt;
        loads.F[m] -= share * share;
        loads.G[ma] -= 2 * share * PerVolt;
        loads.G[mb] += 2 * share * PerVolt;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var least = DropOutCurrent / PullInCurrent;
        values[ClosingGuard] = arm.Conducts && arm.Parting == 0 ? -1 : x[m] - 1;
        values[OpeningGuard] = arm.Conducts && arm.Parting == 0 ? least * least - x[m] : -1;
        values[ZeroGuard] = arm.Parting != 0 ? -arm.Parting * (x[c] - x[d]) / OnResistance : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => arm = guard switch
    {
        ClosingGuard => new(true, 0),
        OpeningGuard when x[c] != x[d] => new(true, Math.Sign(x[c] - x[d])),
        _ => default,
    };

    /// <inheritdoc/>
    public void Reset() => arm = default;

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        initial.Value(m, 0);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => arm.Conducts ? 1 : 0;

    /// <summary>Current of the coil in amperes.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) / CoilResistance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
            Name,
            ("drop-out current", DropOutCurrent),
            ("coil resistance", CoilResistance),
            ("time constant", Sluggishness),
            ("on resistance", OnResistance),
            ("off resistance", OffResistance)))
        {
            yield return problem;
        }

        if (!(PullInCurrent > DropOutCurrent))
        {
            yield return $"{Name}: pull-in current {PullInCurrent} A; it must be above the drop-out current of {DropOutCurrent} A.";
        }
    }

    /// <summary>Whether the contact conducts, and the sign of the current that an arc still carries after it has parted.</summary>
    private readonly record struct Contact(bool Conducts, int Parting);
}
