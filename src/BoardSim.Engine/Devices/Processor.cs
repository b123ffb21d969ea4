using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Supply, reset and program of a processor; terminals: supply, ground, reset, analog input. <see cref="ProcessorPort"/>s follow its program by its
/// name.
/// <para>
/// Unpowered below <see cref="PowerOnVoltage"/>; then in reset while the reset node is low (thresholds are parts of the supply); then starting for
/// <see cref="StartUpTime"/>; then the program runs, from its beginning. A supply that falls below <see cref="MinimumVoltage"/> while the program runs makes
/// it lose its way: it hangs, with the outputs as they were, until it is reset or the supply has gone. All the program's times pass at
/// <see cref="ClockRatio"/> of their due speed; at zero it never begins.
/// </para>
/// <para>
/// The instants at which outputs change are known in advance, and while nothing changes the processor costs no step: the thermostat's input is watched
/// all the time, but acted upon at the sampling instant that follows. In an operating point, and for what holds at the start of a run, no times pass.
/// </para>
/// </summary>
public sealed class Processor : Device, IDiscrete, ITimed, IStates, ICurrent
{
    // Parts of the supply at which the reset node counts as low and as high: a Schmitt trigger's usual ones (common practice, no source).
    private const double ResetLow = 0.4;
    private const double ResetHigh = 0.6;
    private const double PowerHysteresis = 0.1;
    private const double Leak = 1e-9;

    private const int PowerGuard = 0;
    private const int ResetGuard = 1;
    private const int LowGuard = 2;
    private const int ClockGuard = 3;
    private const int InputGuard = 4;

    private int s, g, r, adc;
    private int ss, sg, gs, gg;
    private int rr, rg, gr, aa, ag, ga;
    private Situation now;

    /// <summary>Creates a processor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply node.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="reset">Reset node, low active.</param>
    /// <param name="analog">Node of the analog input.</param>
    public Processor(string name, string supply, string ground, string reset, string analog)
        : base(name, supply, ground, reset, analog)
    {
    }

    private enum Phase
    {
        Unpowered,
        Reset,
        Starting,
        Running,
        Hung,
    }

    /// <summary>Supply current in amperes while the program runs, zero or more; it is constant above <see cref="MinimumVoltage"/>.</summary>
    public double RunCurrent { get; set; } = 15e-3;

    /// <summary>Supply current in amperes in reset, zero or more.</summary>
    public double ResetCurrent { get; set; } = 3e-3;

    /// <summary>Supply voltage in volts below which nothing works, and above which a reset is worked off; positive.</summary>
    public double PowerOnVoltage { get; set; } = 1.5;

    /// <summary>Supply voltage in volts below which a running program loses its way; above <see cref="PowerOnVoltage"/>.</summary>
    public double MinimumVoltage { get; set; } = 3.3;

    /// <summary>Time in seconds, by the processor's time base, from the release of the reset to the program's beginning; zero or more.</summary>
    public double StartUpTime { get; set; } = 5e-3;

    /// <summary>Frequency of the time base relative to the due one; zero for one that has stopped.</summary>
    public double ClockRatio { get; set; } = 1;

    /// <summary>What the program does with each output, from the first on; at most 32.</summary>
    public IReadOnlyList<PortProgram> Programs { get; set; } = [];

    /// <summary>Two-point control of the outputs that follow it; null for none.</summary>
    public Thermostat? Thermostat { get; set; }

    /// <summary>True while outputs are driven: the program runs or hangs.</summary>
    public bool DrivesOutputs => now.Phase is Phase.Running or Phase.Hung;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [s, g];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive), new(3, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 5;

    /// <inheritdoc/>
    public string StateName => now.Phase switch
    {
        Phase.Unpowered => "unpowered",
        Phase.Reset => "reset",
        Phase.Starting => "starting",
        Phase.Running => "running",
        _ => "hung",
    };

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["reset-count", "running", "program-time", "heat"];

    /// <summary>Level of an output while it is driven.</summary>
    /// <param name="output">Number of the output, from 0.</param>
    public bool IsHigh(int output) => (now.Levels >> output & 1) != 0;

    /// <summary>Share of the time that an output is high while it is driven: 0 or 1, and between them for the mean of pulses.</summary>
    /// <param name="output">Number of the output, from 0.</param>
    internal double HighShare(int output) => IsHigh(output) ? Programs[output].High : 0;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        s = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        r = binder.Node(Nodes[2]);
        adc = binder.Node(Nodes[3]);
        (ss, sg, gs, gg) = (binder.Slot(s, s), binder.Slot(s, g), binder.Slot(g, s), binder.Slot(g, g));
        (rr, rg, gr) = (binder.Slot(r, r), binder.Slot(r, g), binder.Slot(g, r));
        (aa, ag, ga) = (binder.Slot(adc, adc), binder.Slot(adc, g), binder.Slot(g, adc));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var m = loads.G;
        m[rr] += Leak;
        m[rg] -= Leak;
        m[gr] -= Leak;
        m[aa] += Leak;
        m[ag] -= Leak;
        m[ga] -= Leak;
        m[gg] += 2 * Leak;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var i = Draw(loads.X[s] - loads.X[g], out var slope);
        loads.F[s] += i;
        loads.F[g] -= i;
        loads.G[ss] += slope;
        loads.G[sg] -= slope;
        loads.G[gs] -= slope;
        loads.G[gg] += slope;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var volts = x[s] - x[g];
        var reset = x[r] - x[g];
        values[PowerGuard] = now.Phase == Phase.Unpowered ? volts - PowerOnVoltage : PowerOnVoltage - PowerHysteresis - volts;
        values[ResetGuard] = now.Phase switch
        {
            Phase.Unpowered => -1,
            Phase.Reset => reset - ResetHigh * volts,
            _ => ResetLow * volts - reset,
        };
        values[LowGuard] = now.Phase == Phase.Running ? MinimumVoltage - volts : -1;
        values[ClockGuard] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;
        values[InputGuard] = now.Phase == Phase.Running && !now.IsAsked && Thermostat is { } control ? control.Urge(now.Heat, x[adc] - x[g], volts) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        var volts = x[s] - x[g];
        switch (guard)
        {
            case PowerGuard when now.Phase == Phase.Unpowered:
                now = now.To(Phase.Reset);
                break;
            case PowerGuard:
                now = now.To(Phase.Unpowered);
                break;
            case ResetGuard when now.Phase == Phase.Reset:
                Start(time, x);
                break;
            case ResetGuard:
                now = now.To(Phase.Reset);
                break;
            case LowGuard:
                now = now with { Phase = Phase.Hung, Due = double.PositiveInfinity, Since = (time - now.Since) * ClockRatio, IsAsked = false };
                break;
            case ClockGuard when now.Phase == Phase.Starting:
                Begin(Math.Max(time, now.Due), volts, x);
                break;
            case ClockGuard:
                Serve(Math.Max(time, now.Due), volts, x);
                break;
            default:
                Ask(time);
                break;
        }

        // A guard that already stands beyond zero after the change never crosses.
        if (now.Phase == Phase.Reset && x[r] - x[g] > ResetHigh * volts)
        {
            Start(time, x);
        }
    }

    /// <inheritdoc/>
    public void Reset() => now = new Situation { Phase = Phase.Unpowered, Due = double.PositiveInfinity };

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time)
    {
        if (!double.IsFinite(now.Due))
        {
            return Repetition.Constant;
        }

        var period = 0.0;
        foreach (var program in Programs)
        {
            var own = program.Repeats(ProgramTime(time));
            if (own != 0 && period != 0 && own != period)
            {
                return Repetition.None;
            }

            period = Math.Max(period, own);
        }

        return now.Phase == Phase.Running && !now.IsAsked && double.IsFinite(period) ? new(period / ClockRatio, double.PositiveInfinity) : Repetition.None;
    }

    /// <summary>Current in amperes that the processor takes from its supply, that of its outputs left out.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => Draw(x[s] - x[g], out _);

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => now.Resets,
        1 => now.Phase == Phase.Running ? 1 : 0,
        2 => ProgramTime(time),
        _ => now.Heat ? 1 : 0,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.NotNegative(
                Name,
                ("supply current", RunCurrent),
                ("supply current in reset", ResetCurrent),
                ("start-up time", StartUpTime),
                ("ratio of the time base", ClockRatio))
            .Concat(Ranges.Positive(Name, ("power-on voltage", PowerOnVoltage - PowerHysteresis))))
        {
            yield return problem;
        }

        if (!(MinimumVoltage > PowerOnVoltage))
        {
            yield return $"{Name}: minimum voltage {MinimumVoltage} V; it must be above the power-on voltage of {PowerOnVoltage} V.";
        }

        if (Programs.Count > 32)
        {
            yield return $"{Name}: {Programs.Count} outputs; there may be 32 at most.";
        }

        foreach (var problem in Programs.Select((p, k) => p.Problem is { } wrong ? $"{Name}: output {k + 1}: {wrong}" : null).Append(Thermostat?.Problem is { } control ? $"{Name}: {control}" : null).OfType<string>())
        {
            yield return problem;
        }
    }

    private double ProgramTime(double time) => now.Phase switch
    {
        Phase.Running => (time - now.Since) * ClockRatio,
        Phase.Hung => now.Since,
        _ => 0,
    };

    private double Draw(double volts, out double slope)
    {
        var full = DrivesOutputs ? RunCurrent : ResetCurrent;
        var w = volts / PowerOnVoltage;
        if (w >= 1)
        {
            slope = 0;
            return full;
        }

        (var i, slope) = w > 0 ? (w * (2 - w), 2 * (1 - w)) : (2 * w, 2);
        slope *= full / PowerOnVoltage;
        return full * i;
    }

    /// <summary>The reset is released.</summary>
    private void Start(double time, ReadOnlySpan<double> x)
    {
        now = now with { Phase = Phase.Starting, Due = ClockRatio > 0 ? time + StartUpTime / ClockRatio : double.PositiveInfinity };
        if (ClockRatio > 0 && (StartUpTime == 0 || time <= 0))
        {
            Begin(time, x[s] - x[g], x);
        }
    }

    private void Begin(double time, double volts, ReadOnlySpan<double> x)
    {
        now = now with { Phase = Phase.Running, Since = time, Heat = false };
        if (volts < MinimumVoltage)
        {
            now = now with { Phase = Phase.Hung, Since = 0, Due = double.PositiveInfinity, Levels = 0 };
            return;
        }

        now = now with { IsAsked = Thermostat is not null, Asked = 0 };
        Serve(time, volts, x);
    }

    /// <summary>Sets the outputs as the program has them at an instant, and the instant at which that changes next.</summary>
    private void Serve(double time, double volts, ReadOnlySpan<double> x)
    {
        var at = (time - now.Since) * ClockRatio;
        if (now.IsAsked && at >= now.Asked - 1e-9 * Thermostat!.Sampling)
        {
            now = now with { IsAsked = false, Heat = now.Heat ^ (Thermostat.Urge(now.Heat, x[adc] - x[g], volts) >= 0) };
        }

        var (levels, next) = (0u, now.IsAsked ? now.Asked : double.PositiveInfinity);
        for (var k = 0; k < Programs.Count; k++)
        {
            levels |= Programs[k].Level(at, now.Heat) ? 1u << k : 0;
            next = Math.Min(next, Programs[k].NextEdge(at));
        }

        now = now with { Levels = levels, Due = now.Since + next / ClockRatio };
    }

    /// <summary>The analog input has passed the thermostat's ratio: the next sample will see it.</summary>
    private void Ask(double time)
    {
        var at = (time - now.Since) * ClockRatio;
        var sample = (Math.Floor(at / Thermostat!.Sampling) + 1) * Thermostat.Sampling;
        now = now with { IsAsked = true, Asked = sample, Due = Math.Min(now.Due, now.Since + sample / ClockRatio) };
    }

    private readonly record struct Situation
    {
        public Phase Phase { get; init; }

        /// <summary>When something changes by itself next, in seconds.</summary>
        public double Due { get; init; }

        /// <summary>When the program began, in seconds; for one that hangs, the program time at which it did.</summary>
        public double Since { get; init; }

        public int Resets { get; init; }

        public uint Levels { get; init; }

        public bool Heat { get; init; }

        /// <summary>True while a sample is due, at program time <see cref="Asked"/>.</summary>
        public bool IsAsked { get; init; }

        public double Asked { get; init; }

        /// <summary>Goes into reset or loses its supply; that counts where the processor had left reset before.</summary>
        public Situation To(Phase phase) => new()
        {
            Phase = phase,
            Due = double.PositiveInfinity,
            Resets = Resets + (Phase is Phase.Starting or Phase.Running or Phase.Hung ? 1 : 0),
        };
    }
}
