using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Pulse drive of a fan with its speed loop in mean values, for runs of hours; terminals: rail, motor, logic supply, ground, level of the pulses. A chopper with duty factor d into a resistor R in front of
/// a capacitor lets pass the mean current <c>d (V - Vsat - v)/R</c>, and its pulses heat the resistor by <c>d ((V - Vsat - v)/R)^2 R</c>: both are those of a resistor <c>R/d</c>
/// (by hand: the capacitor holds v within a period). What pulls the buffer's base takes its share of the rail likewise.
/// <para>
/// In a closed loop the sampled PI program of <see cref="SpeedController"/> is a continuous one, <c>d = P e + z</c>, <c>dz/dt = I e</c>, held back where the duty factor is at its end (Astrom and Hagglund, PID Controllers,
/// chapter 3, back-calculation; from memory), the motor's speed is measured as it is, and standing means less than a pulse in <see cref="GiveUpAfter"/>. In an open loop the share of the logic supply at the level's terminal is the duty factor, fading out
/// with a supply below a junction's voltage (common practice, no source).
/// </para>
/// Pulses, their tones and ripple, the timer's steps and the tachometer's edges are left out.
/// </summary>
public sealed class MeanFanDrive : Device, IDiscrete, ITimed, ICurrent, IInitial, IStates
{
    private const int SupplyGuard = 0;
    private const int SpeedGuard = 1;
    private const int ClockGuard = 2;

    // Leak in siemens that ties its inputs, width of the duty factor's rounded ends, width in volts about no current, and rate in 1/s at which the integral is held back.
    private const double Leak = 1e-8;
    private const double Corner = 1e-3;
    private const double Knee = 1e-3;
    private const double HoldBack = 10;

    // Logic supply in volts from which on its pulses reach the buffer in full.
    private const double Junction = 0.6;

    // Base-emitter and collector-emitter voltages together that the buffer's drive current does not see.
    private const double DriveDrop = 0.9;

    private int r, o, s, g, p, z, w;
    private int rr, ro, rs, rg, rp, rz, rw, or, oo, os, og, op, oz, ow, gr, gs, gg, gp, gz, gw, ss, sg, pp, pg, zz, zw;
    private DcMotor? motor;
    private Situation now;

    /// <summary>Creates a drive.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="rail">Rail that feeds the fan.</param>
    /// <param name="output">Node of the fan with its capacitor.</param>
    /// <param name="supply">Logic supply.</param>
    /// <param name="ground">Ground.</param>
    /// <param name="level">Node whose share of the logic supply is the duty factor; of no account in a closed loop.</param>
    /// <param name="motor">Name of the motor.</param>
    public MeanFanDrive(string name, string rail, string output, string supply, string ground, string level, string motor)
        : base(name, rail, output, supply, ground, level)
    {
        Motor = motor;
        Reset();
    }

    /// <summary>Name of the motor.</summary>
    public string Motor { get; set; }

    /// <summary>True when the level sets the duty factor, false when the loop does.</summary>
    public bool IsOpenLoop { get; set; }

    /// <summary>False when nothing comes from the tachometer: the loop takes the fan for standing.</summary>
    public bool HasTachometer { get; set; } = true;

    /// <summary>Resistance in ohms in the pulses' way, positive.</summary>
    public double Resistance { get; set; } = 15;

    /// <summary>Resistance in ohms of the buffer while it is on, zero or more.</summary>
    public double BufferResistance { get; set; } = 0.2;

    /// <summary>Voltage in volts that the buffer drops beside that, zero or more.</summary>
    public double Saturation { get; set; } = 0.05;

    /// <summary>Resistance in ohms that draws the buffer's base current, positive.</summary>
    public double DriveResistance { get; set; } = 1000;

    /// <summary>Speed in radians per second that is wanted, positive.</summary>
    public double Target { get; set; } = 190;

    /// <summary>Pulses of the tachometer for one turn, positive.</summary>
    public double PulsesPerTurn { get; set; } = 2;

    /// <summary>Duty factor for an error of a radian per second, zero or more.</summary>
    public double Proportional { get; set; } = 2e-3;

    /// <summary>Change of the duty factor in a second for such an error, zero or more.</summary>
    public double Integral { get; set; } = 10e-3;

    /// <summary>Duty factor at the start, 0 to 1.</summary>
    public double StartDuty { get; set; } = 0.5;

    /// <summary>Time in seconds without a pulse after which the fan is turned off, positive; infinity for never.</summary>
    public double GiveUpAfter { get; set; } = 3;

    /// <summary>Time in seconds after which it is tried again, positive; infinity for never.</summary>
    public double RetryAfter { get; set; } = 5;

    /// <summary>Supply voltage in volts that the program needs, positive.</summary>
    public double MinimumSupply { get; set; } = 3;

    /// <inheritdoc/>
    public int GuardCount => 3;

    /// <inheritdoc/>
    public string StateName => !now.IsPowered ? "unpowered" : now.HasGivenUp ? "given-up" : now.IsSlow ? "starting" : "running";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <summary>States: duty factor, speed measured in radians per second, how often it gave up, heat in watts of the resistance in the pulses' way.</summary>
    public IReadOnlyList<string> States { get; } = ["duty", "measured-speed", "stalls", "resistor-heat"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [r, o, s, g, p, z, w];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(0, 3, LinkKind.Conductive), new(2, 3, LinkKind.Conductive), new(4, 3, LinkKind.Conductive)];

    private double FirstIntegral => StartDuty - Proportional * Target;

    private double SlowSpeed => 2 * Math.PI / (PulsesPerTurn * GiveUpAfter);

    private bool Drives => IsOpenLoop || (now.IsPowered && !now.HasGivenUp);

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Motor = nameOf(Motor);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        motor = binder.Other<DcMotor>(Motor);
        (r, o, s, g, p) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]), binder.Node(Nodes[3]), binder.Node(Nodes[4]));
        z = binder.Internal("integral", UnknownKind.Other);
        w = binder.InternalOf(motor, "speed", UnknownKind.Other);
        (rr, ro, rs, rg, rp, rz, rw) = (binder.Slot(r, r), binder.Slot(r, o), binder.Slot(r, s), binder.Slot(r, g), binder.Slot(r, p), binder.Slot(r, z), binder.Slot(r, w));
        (or, oo, os, og, op, oz, ow) = (binder.Slot(o, r), binder.Slot(o, o), binder.Slot(o, s), binder.Slot(o, g), binder.Slot(o, p), binder.Slot(o, z), binder.Slot(o, w));
        (gr, gs, gg, gp, gz, gw) = (binder.Slot(g, r), binder.Slot(g, s), binder.Slot(g, g), binder.Slot(g, p), binder.Slot(g, z), binder.Slot(g, w));
        (ss, sg, pp, pg) = (binder.Slot(s, s), binder.Slot(s, g), binder.Slot(p, p), binder.Slot(p, g));
        (zz, zw) = (binder.Slot(z, z), binder.Slot(z, w));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var m = loads.G;
        m[ss] += Leak;
        m[sg] -= Leak;
        m[gs] -= Leak;
        m[pp] += Leak;
        m[pg] -= Leak;
        m[gp] -= Leak;
        m[gg] += 2 * Leak;
        loads.C[zz] += 1;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var (f, m) = (loads.F, loads.G);
        var law = LawAt(x);
        var (i, d) = (law.Motor, law.Drive);
        var (byLevel, byLogic) = (law.ByLevel, law.ByLogic);
        f[r] += i.Value + d.Value;
        f[o] -= i.Value;
        f[g] -= d.Value;

        // By rail less output, by rail less ground, by the duty factor that level and logic supply set, by integral and speed.
        m[rr] += i[2] + d[3];
        m[ro] -= i[2];
        m[rg] -= d[3];
        m[or] -= i[2];
        m[oo] += i[2];
        m[gr] -= d[3];
        m[gg] += d[3];
        Share(i[4] + d[4], rp, rs, rg);
        Share(-i[4], op, os, og);
        Share(-d[4], gp, gs, gg);
        m[rz] += i[1] + d[1];
        m[rw] += i[0] + d[0];
        m[oz] -= i[1];
        m[ow] -= i[0];
        m[gz] -= d[1];
        m[gw] -= d[0];
        f[z] -= law.Rate.Value;
        m[zz] -= law.Rate[1];
        m[zw] -= law.Rate[0];

        void Share(double slope, int level, int logic, int ground)
        {
            m[level] += slope * byLevel;
            m[logic] += slope * byLogic;
            m[ground] -= slope * (byLevel + byLogic);
        }
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[SupplyGuard] = IsOpenLoop ? -1 : Supply(x);
        values[SpeedGuard] = IsOpenLoop ? -1 : Speed(x);
        values[ClockGuard] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        if (guard == SupplyGuard)
        {
            now = new Situation { IsPowered = !now.IsPowered, Due = double.PositiveInfinity };
            if (now.IsPowered)
            {
                Begin(time, x, 0);
            }

            return;
        }

        // A device is told of one guard only, so whatever else has come due at this instant is done as well.
        if (guard == SpeedGuard || Speed(x) >= 0)
        {
            now = now with { IsSlow = !now.IsSlow, Due = now.IsSlow ? double.PositiveInfinity : time + GiveUpAfter };
        }
        else if (now.HasGivenUp)
        {
            Begin(time, x, now.Stalls);
        }
        else
        {
            now = now with { HasGivenUp = true, Stalls = now.Stalls + 1, Due = time + RetryAfter };
        }
    }

    /// <inheritdoc/>
    public void Reset() => now = new Situation { Due = double.PositiveInfinity };

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(now.Due) ? Repetition.None : Repetition.Constant;

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        initial.Value(z, FirstIntegral);
    }

    /// <summary>Mean current in amperes to the fan.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => LawAt(x).Motor.Value;

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x)
    {
        var law = LawAt(x);
        return state switch
        {
            0 => law.Duty.Value,
            1 => Measured(x),
            2 => now.Stalls,
            _ => law.Duty.Value > 0 ? law.Motor.Value * law.Motor.Value / law.Duty.Value * Resistance : 0,
        };
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("resistance", Resistance),
                ("drive resistance", DriveResistance),
                ("wanted speed", Target),
                ("pulses per turn", PulsesPerTurn),
                ("minimum supply", MinimumSupply))
            .Concat(Ranges.NotNegative(
                Name,
                ("buffer's resistance", BufferResistance),
                ("buffer's saturation voltage", Saturation),
                ("proportional gain", Proportional),
                ("integral gain", Integral),
                ("duty factor at the start", StartDuty))))
        {
            yield return problem;
        }

        if (!(GiveUpAfter > 0 && RetryAfter > 0))
        {
            yield return $"{Name}: gives up after {GiveUpAfter} s and tries again after {RetryAfter} s; both must be positive.";
        }

        if (!(StartDuty <= 1))
        {
            yield return $"{Name}: starts at a duty factor of {StartDuty}; it must not be above 1.";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => motor = null;

    private double Measured(ReadOnlySpan<double> x) => HasTachometer ? x[w] : 0;

    private double Supply(ReadOnlySpan<double> x)
    {
        const double band = 0.05;
        var volts = x[s] - x[g];
        return now.IsPowered ? (1 - band) * MinimumSupply - volts : volts - MinimumSupply;
    }

    /// <summary>Zero or more when the fan has become slower than a pulse in the time after which it counts as standing, or faster again.</summary>
    private double Speed(ReadOnlySpan<double> x)
    {
        const double band = 0.05;
        return !now.IsPowered || now.HasGivenUp || !double.IsFinite(GiveUpAfter) ? -1
            : now.IsSlow ? Measured(x) - (1 + band) * SlowSpeed
            : SlowSpeed - Measured(x);
    }

    private void Begin(double time, ReadOnlySpan<double> x, int stalls)
    {
        var slow = Measured(x) < SlowSpeed;
        now = new Situation { IsPowered = true, Stalls = stalls, IsSlow = slow, Due = slow ? time + GiveUpAfter : double.PositiveInfinity };
    }

    private Law LawAt(ReadOnlySpan<double> x)
    {
        var (speed, integral) = (HasTachometer ? Slopes.Of(x[w], 0) : 0, Slopes.Of(x[z], 1));
        var logic = x[s] - x[g];
        var (byLevel, byLogic) = (0.0, 0.0);
        Slopes duty = 0, rate = 0;
        if (IsOpenLoop)
        {
            // Below a junction's voltage the logic has nothing to turn the buffer on with. Without that, the share of a supply that goes to zero would jump.
            Slopes pulses = 0;
            if (logic > 0)
            {
                var supply = Slopes.Of(logic, 1);
                pulses = Bounded(Slopes.Of(x[p] - x[g], 0) / Slopes.Positive(supply, Knee)) * Slopes.Fade(supply / Junction);
            }

            (byLevel, byLogic) = (pulses[0], pulses[1]);
            duty = Slopes.Of(pulses.Value, 4);
            rate = FirstIntegral - integral;
        }
        else if (Drives)
        {
            var error = Target - speed;
            var raw = integral + Proportional * error;
            duty = Bounded(raw);
            rate = Integral * error - HoldBack * (raw - duty);
        }
        else
        {
            rate = HoldBack * (FirstIntegral - integral);
        }

        var over = Slopes.Positive(Slopes.Of(x[r] - x[o], 2) - Saturation, Knee);
        var drive = Slopes.Positive(Slopes.Of(x[r] - x[g], 3) - DriveDrop, Knee);
        return new(duty * over / (Resistance + BufferResistance), duty * drive / DriveResistance, duty, rate, byLevel, byLogic);
    }

    private static Slopes Bounded(Slopes x) => Slopes.Least(Slopes.Positive(x, Corner), 1, Corner);

    private readonly record struct Law(Slopes Motor, Slopes Drive, Slopes Duty, Slopes Rate, double ByLevel, double ByLogic);

    private readonly record struct Situation
    {
        public bool IsPowered { get; init; }

        public bool HasGivenUp { get; init; }

        /// <summary>True while it is slower than what counts as standing.</summary>
        public bool IsSlow { get; init; }

        public int Stalls { get; init; }

        /// <summary>Instant in seconds when it gives up or tries again.</summary>
        public double Due { get; init; }
    }
}
