using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// A contact, solder joint or terminal that its own resistance heats; terminals: first, second. Its temperature is an unknown with the heat balance
/// <c>C dT/dt + (T - Tambient) / Rth = v^2 / R(T)</c>, <c>R(T) = R20 (1 + a (T - 20 degC))</c>. For a constriction between two bodies <c>a</c> is two thirds of
/// the metal's own coefficient (Holm, Electric Contacts, 4th ed., part I, section 14, from memory).
/// <para>
/// A crack opens the joint when it has become warm and has stretched, and closes it when it has cooled: two temperatures,
/// <see cref="OpensAt"/> and <see cref="ClosesAt"/>. A bimetal cut-out that its load's current heats is the same device. On alternating current the arc goes out at
/// the next zero of the current (<see cref="BreaksAtZero"/>); its voltage is left out.
/// </para>
/// </summary>
public sealed class ThermalJoint : Device, IDiscrete, ICurrent, IInitial, IStates
{
    private const int OpeningGuard = 0;
    private const int ClosingGuard = 1;
    private const int ZeroGuard = 2;
    private const double Reference = 293.15;

    // The largest step of an iteration in kelvin, and temperatures beyond which the resistance stays as it is there.
    private const double LongestStep = 200;
    private const double Coldest = 73;
    private const double Hottest = 3000;

    private int a, b, t, aa, ab, at, ba, bb, bt, ta, tb, tt;
    private double ambient, last;
    private Crack crack;

    /// <summary>Creates a joint that is whole.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="resistanceAt20">Resistance in ohms at 20 degC, positive.</param>
    public ThermalJoint(string name, string first, string second, double resistanceAt20)
        : base(name, first, second) => ResistanceAt20 = resistanceAt20;

    /// <summary>Resistance in ohms at 20 degC, positive.</summary>
    public double ResistanceAt20 { get; set; }

    /// <summary>Temperature coefficient in 1/K, zero or more; 0.0026 for a constriction in copper or silver.</summary>
    public double Coefficient { get; set; } = 2.0 / 3 * RelayCoil.CopperCoefficient;

    /// <summary>Heat capacity in joules per kelvin, positive.</summary>
    public double HeatCapacity { get; set; } = 0.3;

    /// <summary>Thermal resistance to what surrounds it in kelvin per watt, positive.</summary>
    public double ThermalResistance { get; set; } = 30;

    /// <summary>Temperature of what surrounds it in kelvin, positive; null for the circuit's.</summary>
    public double? Ambient { get; set; }

    /// <summary>Temperature in kelvin at the start of a run from initial conditions, positive; null for that of what surrounds it.</summary>
    public double? StartTemperature { get; set; }

    /// <summary>Temperature in kelvin above which the crack opens, positive; null for a joint that is whole.</summary>
    public double? OpensAt { get; set; }

    /// <summary>Temperature in kelvin below which an opened crack closes again, below <see cref="OpensAt"/>.</summary>
    public double ClosesAt { get; set; } = 323.15;

    /// <summary>True when an opening crack goes on carrying its current by an arc until that goes through zero; false for a low direct voltage, which no arc can live on.</summary>
    public bool BreaksAtZero { get; set; }

    /// <summary>Resistance in ohms while open, positive.</summary>
    public double OpenResistance { get; set; } = 1e9;

    /// <summary>True while the crack is open.</summary>
    public bool IsOpen => crack.IsOpen;

    /// <summary>Name of the unknown that holds the temperature.</summary>
    public string TemperatureUnknown => $"{Name}#temperature";

    /// <inheritdoc/>
    public int GuardCount => 3;

    /// <inheritdoc/>
    public string StateName => crack.IsOpen ? "open" : crack.Parting != 0 ? "parting" : "closed";

    /// <inheritdoc/>
    public object Memory
    {
        get => crack;
        set => crack = (Crack)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["open", "openings"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b, t];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    private double Around => Ambient ?? ambient;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        t = binder.Internal("temperature", UnknownKind.Temperature);
        (aa, ab, at) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(a, t));
        (ba, bb, bt) = (binder.Slot(b, a), binder.Slot(b, b), binder.Slot(b, t));
        (ta, tb, tt) = (binder.Slot(t, a), binder.Slot(t, b), binder.Slot(t, t));
        ambient = binder.Circuit.Temperature;
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[tt] += 1 / ThermalResistance;
        loads.C[tt] += HeatCapacity;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var v = x[a] - x[b];
        var kelvin = loads.Limiting ? Limit(x[t], loads) : x[t];
        var g = Conductance(kelvin, out var gt);
        var slope = v * gt;

        // At a limited temperature the law is replaced by its tangent there.
        var i = v * g + slope * (x[t] - kelvin);
        loads.F[a] += i;
        loads.F[b] -= i;
        loads.F[t] -= v * i + Around / ThermalResistance;
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[at] += slope;
        loads.G[ba] -= g;
        loads.G[bb] += g;
        loads.G[bt] -= slope;
        loads.G[ta] -= 2 * v * g;
        loads.G[tb] += 2 * v * g;
        loads.G[tt] -= v * slope;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[OpeningGuard] = !crack.IsOpen && crack.Parting == 0 && OpensAt is { } opens ? x[t] - opens : -1;
        values[ClosingGuard] = crack.IsOpen ? ClosesAt - x[t] : -1;
        values[ZeroGuard] = crack.Parting != 0 ? -crack.Parting * Current(x) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => crack = guard switch
    {
        OpeningGuard when BreaksAtZero && x[a] != x[b] => crack with { Parting = Math.Sign(x[a] - x[b]) },
        ClosingGuard => crack with { IsOpen = false },
        _ => new(true, crack.Openings + 1, 0),
    };

    /// <inheritdoc/>
    public void Reset() => crack = default;

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        initial.Value(t, StartTemperature ?? Around);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state == 0 ? (crack.IsOpen ? 1 : 0) : crack.Openings;

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * Conductance(x[t], out _);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("resistance at 20 degC", ResistanceAt20),
                ("heat capacity in J/K", HeatCapacity),
                ("thermal resistance in K/W", ThermalResistance),
                ("ambient temperature in kelvin", Ambient ?? 1),
                ("start temperature in kelvin", StartTemperature ?? 1),
                ("open resistance", OpenResistance))
            .Concat(Ranges.NotNegative(Name, ("temperature coefficient", Coefficient))))
        {
            yield return problem;
        }

        if (OpensAt is { } opens && !(ClosesAt > 0 && ClosesAt < opens))
        {
            yield return $"{Name}: opens above {opens} K and closes below {ClosesAt} K; it must close at a lower temperature than it opens at.";
        }
    }

    private double Conductance(double kelvin, out double slope)
    {
        slope = 0;
        if (crack.IsOpen)
        {
            return 1 / OpenResistance;
        }

        // Never below a twentieth, so that no iterate turns the resistance negative.
        var factor = 1 + Coefficient * (Math.Clamp(kelvin, Coldest, Hottest) - Reference);
        if (factor < 0.05)
        {
            return 20 / ResistanceAt20;
        }

        var g = 1 / (ResistanceAt20 * factor);
        slope = kelvin is > Coldest and < Hottest ? -g * Coefficient / factor : 0;
        return g;
    }

    private double Limit(double next, Loads loads)
    {
        // A solve may start from all zeroes, which is no temperature.
        var from = !loads.Fresh && last > 0 ? last : next >= Coldest ? next : Around;

        // An iterate may have been at millions of kelvin, from where no small steps lead back.
        from = Math.Min(from, Hottest);
        last = Math.Clamp(next, Math.Max(Coldest, from - LongestStep), from + LongestStep);
        if (from >= Hottest && next >= Hottest)
        {
            last = next;
        }

        loads.Limited |= last != next;
        return last;
    }

    /// <summary>Whether it stands open, how often it has opened, and the sign of the current that an arc still carries.</summary>
    private readonly record struct Crack(bool IsOpen, int Openings, int Parting);
}
