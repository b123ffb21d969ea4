using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Start relay of a motor, moved by the run winding's current; terminals: coil in, coil out, contact, contact. The pull goes with the square of the current, and what it
/// moves is too heavy for a half-wave: <c>tau dm/dt = (i / Ipull)^2 - m</c>. The contact closes when m rises above one and opens when it falls below
/// <c>(Idrop / Ipull)^2</c>: RMS currents, for a sine.
/// </summary>
public sealed class StartRelay : Device, IDiscrete, ICurrent, IInitial, IStates
{
    private const int ClosingGuard = 0;
    private const int OpeningGuard = 1;

    private int a, b, c, d, m, aa, ab, ba, bb, cc, cd, dc, dd, ma, mb, mm;
    private bool isClosed;

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
    public bool IsClosed => isClosed;

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public string StateName => isClosed ? "closed" : "open";

    /// <inheritdoc/>
    public object Memory
    {
        get => isClosed;
        set => isClosed = (bool)value;
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
        var contact = 1 / (isClosed ? OnResistance : OffResistance);
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
        values[ClosingGuard] = isClosed ? -1 : x[m] - 1;
        values[OpeningGuard] = isClosed ? least * least - x[m] : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => isClosed = guard == ClosingGuard;

    /// <inheritdoc/>
    public void Reset() => isClosed = false;

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        initial.Value(m, 0);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => isClosed ? 1 : 0;

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
}
