using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Program that keeps a fan's speed; terminals: supply, ground, tachometer input, pulse output. It sets the duty factor of the pulses at its output once in a sampling time:
/// <c>duty += P (e - e before) + I Ts e</c>, <c>e</c> being the speed that is wanted less the one measured, held within 0 and 1 and rounded to the timer's steps (the
/// velocity form of a PI controller: Astrom and Wittenmark, Computer-Controlled Systems, from memory). The speed is that of the pulses counted since the last sample, over the time from
/// the last one before them to the last of them; no pulse counts as standstill.
/// <para>
/// Without a pulse for <see cref="GiveUpAfter"/> it takes the fan for stalled, turns it off and begins anew after <see cref="RetryAfter"/>. All that the program does by itself is
/// a corner known in advance. An operating point shows it at its first pulse.
/// </para>
/// </summary>
public sealed class SpeedController : Device, IDiscrete, ITimed, ICurrent, IStates
{
    // Parts of the supply at which the input counts as low and as high (common practice, no source).
    private const double InputLow = 0.4;
    private const double InputHigh = 0.6;
    private const double Leak = 1e-8;

    private const int SupplyGuard = 0;
    private const int InputGuard = 1;
    private const int ClockGuard = 2;

    private int s, g, t, p, ss, sg, gs, gg, tt, tg, gt, pp, ps, sp, pg, gp;
    private Situation now;

    /// <summary>Creates a controller.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply node.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="tachometer">Node of the tachometer input; falling edges count.</param>
    /// <param name="output">Node of the pulse output.</param>
    public SpeedController(string name, string supply, string ground, string tachometer, string output)
        : base(name, supply, ground, tachometer, output) => Reset();

    /// <summary>Speed in radians per second that is wanted, positive.</summary>
    public double Target { get; set; } = 190;

    /// <summary>Pulses of the tachometer for one turn, positive.</summary>
    public double PulsesPerTurn { get; set; } = 2;

    /// <summary>Frequency of the output's pulses in hertz, positive.</summary>
    public double Frequency { get; set; } = 1000;

    /// <summary>Time in seconds between two samples, positive, more than a period of the pulses.</summary>
    public double Sampling { get; set; } = 0.1;

    /// <summary>Change of the duty factor for a change of the error by a radian per second, zero or more.</summary>
    public double Proportional { get; set; } = 2e-3;

    /// <summary>Change of the duty factor in a second for an error of a radian per second, zero or more.</summary>
    public double Integral { get; set; } = 10e-3;

    /// <summary>Duty factor at the start, 0 to 1.</summary>
    public double StartDuty { get; set; } = 0.5;

    /// <summary>Steps of the timer, at least 2.</summary>
    public double Steps { get; set; } = 250;

    /// <summary>Time in seconds without a pulse after which the fan is turned off, positive; infinity for never.</summary>
    public double GiveUpAfter { get; set; } = 3;

    /// <summary>Time in seconds after which it is tried again, positive; infinity for never.</summary>
    public double RetryAfter { get; set; } = 5;

    /// <summary>Supply voltage in volts that the program needs, positive.</summary>
    public double MinimumSupply { get; set; } = 3;

    /// <summary>
    /// Time in seconds that a reset lasts after the supply has failed, positive: the power-up timer of a small processor (a fraction of a millisecond to tens; common practice, no source). A controller that its own output
    /// takes the supply from, its ground lead off, starts and fails again and again, but not without end in no time.
    /// </summary>
    public double ResetTime { get; set; } = 1e-3;

    /// <summary>Resistance of the output in ohms, towards the supply and towards the ground, positive.</summary>
    public double OutputResistance { get; set; } = 40;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive), new(3, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 3;

    /// <inheritdoc/>
    public string StateName => !now.IsPowered ? "unpowered" : now.HasGivenUp ? "given-up" : now.IsHigh ? "high" : "low";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["duty", "measured-speed", "stalls"];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (s, g, t, p) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]), binder.Node(Nodes[3]));
        (ss, sg, gs, gg) = (binder.Slot(s, s), binder.Slot(s, g), binder.Slot(g, s), binder.Slot(g, g));
        (tt, tg, gt) = (binder.Slot(t, t), binder.Slot(t, g), binder.Slot(g, t));
        (pp, ps, sp, pg, gp) = (binder.Slot(p, p), binder.Slot(p, s), binder.Slot(s, p), binder.Slot(p, g), binder.Slot(g, p));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        if (loads.IsAtRest)
        {
            // At direct current time does not pass: a reset has long been over.
            now.ResetDue = double.PositiveInfinity;
        }

        var m = loads.G;
        m[ss] += Leak;
        m[sg] -= Leak;
        m[gs] -= Leak;
        m[tt] += Leak;
        m[tg] -= Leak;
        m[gt] -= Leak;
        m[gg] += 2 * Leak;
        var y = 1 / OutputResistance;
        m[pp] += y;
        if (now.IsHigh)
        {
            m[ps] -= y;
            m[sp] -= y;
            m[ss] += y;
        }
        else
        {
            m[pg] -= y;
            m[gp] -= y;
            m[gg] += y;
        }
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[SupplyGuard] = Supply(x);
        values[InputGuard] = Input(x);
        values[ClockGuard] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        if (guard == SupplyGuard)
        {
            if (now.IsPowered)
            {
                now = Situation.Off with { ResetDue = time + ResetTime };
            }
            else
            {
                Begin(time, 0);
            }

            return;
        }

        if (!now.IsPowered)
        {
            // The end of the reset; where the supply is back only later, its own guard tells.
            now = Situation.Off;
            if (Supply(x) >= 0)
            {
                Begin(time, 0);
            }

            return;
        }

        // A device is told of one guard only, so whatever else has come due at this instant is done as well.
        if (guard == InputGuard || Input(x) >= 0)
        {
            now.IsInputHigh = !now.IsInputHigh;
            if (!now.IsInputHigh)
            {
                now.Pulses++;
                now.LastPulse = time;
            }
        }

        if (guard == ClockGuard || now.Due <= time + Clock.Rounding(time))
        {
            Serve(Math.Max(time, now.Due));
        }
    }

    /// <inheritdoc/>
    public void Reset() => now = Situation.Off;

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(now.Due) ? Repetition.None : Repetition.Constant;

    /// <summary>Current in amperes that the output takes from the supply.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => now.IsHigh ? (x[s] - x[p]) / OutputResistance : 0;

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => now.Duty,
        1 => now.Measured,
        _ => now.Stalls,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("wanted speed", Target),
                ("pulses per turn", PulsesPerTurn),
                ("frequency", Frequency),
                ("time until it gives up", GiveUpAfter),
                ("time until it tries again", RetryAfter),
                ("minimum supply", MinimumSupply),
                ("reset time", ResetTime),
                ("output resistance", OutputResistance))
            .Concat(Ranges.NotNegative(Name, ("proportional gain", Proportional), ("integral gain", Integral), ("duty factor at the start", StartDuty))))
        {
            yield return problem;
        }

        if (!(Sampling * Frequency > 1 && double.IsFinite(Sampling)))
        {
            yield return $"{Name}: samples every {Sampling} s; it must be finite and more than a period of the pulses at {Frequency} Hz.";
        }

        if (!(StartDuty <= 1 && Steps >= 2))
        {
            yield return $"{Name}: starts at a duty factor of {StartDuty} in {Steps} steps; the factor must not be above 1, and there must be two steps at least.";
        }
    }

    private double Supply(ReadOnlySpan<double> x)
    {
        const double band = 0.05;
        var volts = x[s] - x[g];
        return double.IsFinite(now.ResetDue) ? -1 : now.IsPowered ? (1 - band) * MinimumSupply - volts : volts - MinimumSupply;
    }

    /// <summary>Zero or more when the input has the other level than the one it last had.</summary>
    private double Input(ReadOnlySpan<double> x)
    {
        if (!now.IsPowered)
        {
            return -1;
        }

        var (volts, input) = (x[s] - x[g], x[t] - x[g]);
        return now.IsInputHigh ? InputLow * volts - input : input - InputHigh * volts;
    }

    private void Begin(double time, int stalls)
    {
        now = Situation.Off with
        {
            IsPowered = true,
            Stalls = stalls,
            Wanted = StartDuty,
            Duty = StartDuty,
            SampleDue = time + Sampling,
            PulseBefore = time,
            LastPulse = time,
            IsInputHigh = now.IsInputHigh,
        };
        StartPeriod(time);
    }

    private void Serve(double time)
    {
        if (now.SampleDue <= time + Clock.Rounding(time))
        {
            if (now.HasGivenUp)
            {
                Begin(time, now.Stalls);
                return;
            }

            Sample(time);
        }

        if (now.EdgeDue <= time + Clock.Rounding(time))
        {
            if (now.IsHigh && now.Duty < 1)
            {
                (now.IsHigh, now.EdgeDue) = (false, now.PeriodStart + 1 / Frequency);
            }
            else
            {
                StartPeriod(time);
            }
        }
    }

    private void Sample(double time)
    {
        now.Measured = now.Pulses > 0 ? 2 * Math.PI * now.Pulses / (PulsesPerTurn * (now.LastPulse - now.PulseBefore)) : 0;
        if (time - now.LastPulse > GiveUpAfter)
        {
            now = Situation.Off with { IsPowered = true, HasGivenUp = true, Stalls = now.Stalls + 1, SampleDue = time + RetryAfter, IsInputHigh = now.IsInputHigh };
            return;
        }

        var error = Target - now.Measured;
        now.Wanted = Math.Clamp(now.Wanted + Proportional * (error - (now.Error ?? error)) + Integral * Sampling * error, 0, 1);
        (now.Error, now.Pulses, now.PulseBefore, now.SampleDue) = (error, 0, now.LastPulse, time + Sampling);
        if (!double.IsFinite(now.EdgeDue))
        {
            StartPeriod(time);
        }
    }

    /// <summary>A period with the duty factor of the last sample; one without edges lasts until the next sample.</summary>
    private void StartPeriod(double time)
    {
        now.Duty = Math.Round(now.Wanted * Steps) / Steps;
        now.PeriodStart = time;
        now.IsHigh = now.Duty > 0;
        now.EdgeDue = now.Duty is > 0 and < 1 ? time + now.Duty / Frequency : double.PositiveInfinity;
    }

    private record struct Situation
    {
        public static Situation Off => new() { SampleDue = double.PositiveInfinity, EdgeDue = double.PositiveInfinity, ResetDue = double.PositiveInfinity };

        public bool IsPowered { get; set; }

        public bool IsHigh { get; set; }

        public bool IsInputHigh { get; set; }

        public bool HasGivenUp { get; set; }

        public int Stalls { get; set; }

        /// <summary>Pulses since the last sample.</summary>
        public int Pulses { get; set; }

        public double LastPulse { get; set; }

        /// <summary>Instant in seconds of the last pulse before the last sample.</summary>
        public double PulseBefore { get; set; }

        public double Measured { get; set; }

        /// <summary>Error at the last sample in radians per second; null before the first one.</summary>
        public double? Error { get; set; }

        /// <summary>Duty factor before it is rounded; what is rounded away is not lost to the integral.</summary>
        public double Wanted { get; set; }

        public double Duty { get; set; }

        public double PeriodStart { get; set; }

        public double EdgeDue { get; set; }

        public double SampleDue { get; set; }

        /// <summary>End of the reset after a failure of the supply.</summary>
        public double ResetDue { get; set; }

        public readonly double Due => Math.Min(Math.Min(EdgeDue, SampleDue), ResetDue);
    }
}
