using System.Runtime.CompilerServices;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Logic and gate drive of an H-bridge; terminals: supply, ground, control A, control B. Four <see cref="BridgeSwitch"/>es follow it by its name. Both controls low: all off
/// (coast); A alone: A to the supply, B to the ground (forward); B alone: the other way round (reverse); both: both sides to the ground (brake).
/// <para>
/// A switch turns on <see cref="OnDelay"/> after it is told to and off <see cref="OffDelay"/> after it is told to. The difference is the dead time; where
/// it is negative both switches of a side conduct together for as long. Below <see cref="MinimumSupply"/> all are told to be off. In an operating point, and for what holds at the start of
/// a run, no times pass; a switch that is told otherwise by what it has done itself at the start takes its time.
/// </para>
/// </summary>
public sealed class BridgeDriver : Device, IDiscrete, ITimed, ICurrent
{
    private const int SupplyGuard = 2;
    private const int ClockGuard = 3;

    private int s, g, a, b, ss, sg, gs, gg, aa, ag, ga, bb, bg, gb;
    private Situation now;
    private bool isStatic;

    /// <summary>Creates a driver.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply node.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="controlA">First control.</param>
    /// <param name="controlB">Second control.</param>
    public BridgeDriver(string name, string supply, string ground, string controlA, string controlB)
        : base(name, supply, ground, controlA, controlB) => Reset();

    /// <summary>Control voltage in volts below which a high one counts as low, positive.</summary>
    public double InputLow { get; set; } = 1;

    /// <summary>Control voltage in volts above which a low one counts as high, above <see cref="InputLow"/>.</summary>
    public double InputHigh { get; set; } = 1.8;

    /// <summary>Pull-down of each control in ohms, positive.</summary>
    public double PullDown { get; set; } = 100e3;

    /// <summary>Supply voltage in volts below which all switches are off, positive.</summary>
    public double MinimumSupply { get; set; } = 6;

    /// <summary>By how many volts the supply has to rise above that to let them on again, positive.</summary>
    public double SupplyHysteresis { get; set; } = 0.5;

    /// <summary>Delay in seconds until a switch is on, zero or more.</summary>
    public double OnDelay { get; set; } = 2e-6;

    /// <summary>Delay in seconds until a switch is off, zero or more.</summary>
    public double OffDelay { get; set; } = 0.5e-6;

    /// <summary>What the driver takes for itself, as a resistance across its supply in ohms, positive.</summary>
    public double SupplyResistance { get; set; } = 10e3;

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive), new(3, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 4;

    /// <inheritdoc/>
    public string StateName => now.IsPowered ? (now.A, now.B) switch { (true, true) => "brake", (true, _) => "forward", (_, true) => "reverse", _ => "coast" } : "unpowered";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <summary>True while a switch conducts.</summary>
    /// <param name="gate">Which.</param>
    public bool IsOn(BridgeGate gate) => now.Gates[(int)gate].IsOn;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (s, g, a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]), binder.Node(Nodes[3]));
        (ss, sg, gs, gg) = (binder.Slot(s, s), binder.Slot(s, g), binder.Slot(g, s), binder.Slot(g, g));
        (aa, ag, ga) = (binder.Slot(a, a), binder.Slot(a, g), binder.Slot(g, a));
        (bb, bg, gb) = (binder.Slot(b, b), binder.Slot(b, g), binder.Slot(g, b));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var m = loads.G;
        var (own, pull) = (1 / SupplyResistance, 1 / PullDown);
        m[ss] += own;
        m[sg] -= own;
        m[gs] -= own;
        m[aa] += pull;
        m[ag] -= pull;
        m[ga] -= pull;
        m[bb] += pull;
        m[bg] -= pull;
        m[gb] -= pull;
        m[gg] += own + 2 * pull;
    }

    /// <summary>Adds nothing: it is where a device that is linear learns whether times pass.</summary>
    /// <param name="loads">Not written to.</param>
    public override void Excite(Loads loads) => isStatic = loads.IsStatic || loads.IsAtRest;

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[0] = Level(now.A, x[a] - x[g]);
        values[1] = Level(now.B, x[b] - x[g]);
        values[SupplyGuard] = Supply(x[s] - x[g]);
        var due = now.Due;
        values[ClockGuard] = double.IsFinite(due) ? time - due + Clock.Rounding(due) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        if (guard == ClockGuard)
        {
            now.Serve(Math.Max(time, now.Due));
            return;
        }

        // Both controls may cross at the same instant, but a device is told of one guard only: a look at all of them.
        now.A ^= guard == 0 || Level(now.A, x[a] - x[g]) >= 0;
        now.B ^= guard == 1 || Level(now.B, x[b] - x[g]) >= 0;
        now.IsPowered ^= guard == SupplyGuard || Supply(x[s] - x[g]) >= 0;
        var (p, up, down) = (now.IsPowered, now.A, now.B);
        Tell(BridgeGate.AHigh, p && up && !down, time);
        Tell(BridgeGate.ALow, p && down, time);
        Tell(BridgeGate.BHigh, p && down && !up, time);
        Tell(BridgeGate.BLow, p && up, time);
    }

    private void Tell(BridgeGate gate, bool on, double time) =>
        now.Tell(gate, on, time, isStatic || (time <= 0 && now.Gates[(int)gate].IsUntouched) ? 0 : on ? OnDelay : OffDelay);

    /// <inheritdoc/>
    public void Reset() => now = Situation.Off;

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(now.Due) ? Repetition.None : Repetition.Constant;

    /// <summary>Current in amperes that the driver takes for itself.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => (x[s] - x[g]) / SupplyResistance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("low input level", InputLow),
                ("pull-down", PullDown),
                ("minimum supply", MinimumSupply),
                ("hysteresis of the supply", SupplyHysteresis),
                ("supply resistance", SupplyResistance))
            .Concat(Ranges.NotNegative(Name, ("delay until on", OnDelay), ("delay until off", OffDelay))))
        {
            yield return problem;
        }

        if (!(InputHigh > InputLow))
        {
            yield return $"{Name}: input levels {InputLow} and {InputHigh} V; the second must be above the first.";
        }
    }

    private double Level(bool high, double volts) => high ? InputLow - volts : volts - InputHigh;

    private double Supply(double volts) => now.IsPowered ? MinimumSupply - volts : volts - MinimumSupply - SupplyHysteresis;

    [InlineArray(4)]
    private struct FourGates
    {
        private Gate first;
    }

    private record struct Gate(bool IsOn, bool IsTold, double Due, bool IsUntouched = false);

    private struct Situation
    {
        public FourGates Gates;

        public static Situation Off
        {
            get
            {
                var off = default(Situation);
                for (var k = 0; k < 4; k++)
                {
                    off.Gates[k] = new(false, false, double.PositiveInfinity, IsUntouched: true);
                }

                return off;
            }
        }

        public bool A { get; set; }

        public bool B { get; set; }

        public bool IsPowered { get; set; }

        /// <summary>When a switch turns next, in seconds.</summary>
        public readonly double Due
        {
            get
            {
                var due = double.PositiveInfinity;
                for (var k = 0; k < 4; k++)
                {
                    due = Math.Min(due, Gates[k].Due);
                }

                return due;
            }
        }

        public void Tell(BridgeGate which, bool on, double time, double delay)
        {
            ref var gate = ref Gates[(int)which];
            if (on == gate.IsTold)
            {
                return;
            }

            gate = new(gate.IsOn, on, on == gate.IsOn ? double.PositiveInfinity : time + delay);
            if (gate.Due <= time)
            {
                gate = new(on, on, double.PositiveInfinity);
            }
        }

        public void Serve(double time)
        {
            for (var k = 0; k < 4; k++)
            {
                ref var gate = ref Gates[k];
                if (gate.Due <= time + Clock.Rounding(time))
                {
                    gate = new(gate.IsTold, gate.IsTold, double.PositiveInfinity);
                }
            }
        }
    }
}

/// <summary>The switches of an H-bridge.</summary>
public enum BridgeGate
{
    /// <summary>From side A to the supply.</summary>
    AHigh,

    /// <summary>From side A to the ground.</summary>
    ALow,

    /// <summary>From side B to the supply.</summary>
    BHigh,

    /// <summary>From side B to the ground.</summary>
    BLow,
}
