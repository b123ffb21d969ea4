using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Supply supervisor (brown-out detector); terminals: supply, ground, reset. Its open-drain output holds the reset node low while the supply is
/// below the threshold and for a time-out after it has come back above threshold plus hysteresis. Dips shorter than <see cref="ReactionTime"/> pass
/// unnoticed. In an operating point, and for what holds at the start of a run, no times pass.
/// </summary>
public sealed class ResetSupervisor : Device, IDiscrete, ITimed, ICurrent
{
    private const int VoltageGuard = 0;
    private const int ClockGuard = 1;

    private int s, g, r;
    private int rr, rg, gr, gg;
    private double conductance;
    private Situation now;

    /// <summary>Creates a supervisor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply node that is watched.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="reset">Reset node, which needs a pull-up.</param>
    /// <param name="volts">Threshold in volts for a falling supply, positive.</param>
    public ResetSupervisor(string name, string supply, string ground, string reset, double volts)
        : base(name, supply, ground, reset) => Threshold = volts;

    private enum Phase
    {
        Low,
        Waiting,
        Released,
        Dipping,
    }

    /// <summary>Threshold in volts for a falling supply, positive.</summary>
    public double Threshold { get; set; }

    /// <summary>By how many volts the threshold for a rising supply lies higher, positive.</summary>
    public double Hysteresis { get; set; } = 0.05;

    /// <summary>Time-out in seconds from the supply's return to the release, zero or more.</summary>
    public double Delay { get; set; } = 20e-3;

    /// <summary>Length in seconds of a dip that is just noticed, zero or more.</summary>
    public double ReactionTime { get; set; } = 2e-6;

    /// <summary>Resistance of the output in ohms while it pulls the reset node low, positive.</summary>
    public double OnResistance { get; set; } = 50;

    /// <summary>False for one that has died and never pulls its output low.</summary>
    public bool IsWatching { get; set; } = true;

    /// <summary>True while the output pulls the reset node low.</summary>
    public bool IsAsserted => IsWatching && now.Phase is (Phase.Low or Phase.Waiting);

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(2, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public string StateName => now.Phase switch
    {
        Phase.Low => "low",
        Phase.Waiting => "waiting",
        Phase.Dipping => "dipping",
        _ => "released",
    };

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        s = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        r = binder.Node(Nodes[2]);
        (rr, rg, gr, gg) = (binder.Slot(r, r), binder.Slot(r, g), binder.Slot(g, r), binder.Slot(g, g));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        const double leak = 1e-9;
        var y = conductance = IsAsserted ? 1 / OnResistance : leak;
        loads.G[rr] += y;
        loads.G[rg] -= y;
        loads.G[gr] -= y;
        loads.G[gg] += y;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var volts = x[s] - x[g];
        values[VoltageGuard] = now.Phase is Phase.Low or Phase.Dipping ? volts - Threshold - Hysteresis : Threshold - volts;
        values[ClockGuard] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        var at = Math.Max(time, guard == ClockGuard ? now.Due : time);
        now = (now.Phase, guard) switch
        {
            (Phase.Low, VoltageGuard) => After(Phase.Waiting, Phase.Released, at, Delay),
            (Phase.Waiting, VoltageGuard) => Situation.Of(Phase.Low),
            (Phase.Waiting, _) => Situation.Of(Phase.Released),
            (Phase.Released, VoltageGuard) => After(Phase.Dipping, Phase.Low, at, ReactionTime),
            (Phase.Dipping, VoltageGuard) => Situation.Of(Phase.Released),
            _ => Situation.Of(Phase.Low),
        };
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(now.Due) ? Repetition.None : Repetition.Constant;

    /// <inheritdoc/>
    public void Reset() => now = Situation.Of(Phase.Low);

    /// <summary>Current in amperes that the output takes from the reset node.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => (x[r] - x[g]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.Positive(Name, ("threshold", Threshold), ("hysteresis", Hysteresis), ("on resistance", OnResistance))
            .Concat(Ranges.NotNegative(Name, ("delay", Delay), ("reaction time", ReactionTime)));

    private static Situation After(Phase meanwhile, Phase then, double time, double wait) =>
        wait == 0 || time <= 0 ? Situation.Of(then) : new Situation(meanwhile, time + wait);

    private readonly record struct Situation(Phase Phase, double Due)
    {
        public static Situation Of(Phase phase) => new(phase, double.PositiveInfinity);
    }
}
