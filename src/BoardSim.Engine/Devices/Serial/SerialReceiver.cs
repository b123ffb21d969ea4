using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Serial;

/// <summary>
/// Input of an asynchronous receiver; terminals: line, ground, supply. Its thresholds are parts of its own supply, counted from its own ground: low below
/// <see cref="LowRatio"/>, high above <see cref="HighRatio"/>, as before in between.
/// <para>
/// A falling edge on the idle line starts a frame, at the next tick of a clock of <see cref="Oversampling"/> ticks a bit; each bit is read once, in its middle by the receiver's own
/// clock. A start bit that is high in its middle is dropped as a disturbance; a stop bit that is low is a framing error. A line that stays low starts nothing.
/// </para>
/// <para>
/// What was read is compared with what the <see cref="SerialSender"/> sent that it names: of that, a real receiver knows nothing.
/// </para>
/// </summary>
public sealed class SerialReceiver : Device, IDiscrete, ITimed, IStates
{
    private const double Leak = 1e-9;
    private const int LevelGuard = 0;
    private const int ClockGuard = 1;

    private int p, g, s;
    private int pp, pg, gp, gg, gs, sg, ss;
    private SerialSender? sender;
    private Situation now;

    /// <summary>Creates a receiver.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="line">Node of the line.</param>
    /// <param name="ground">Ground of the receiver's board.</param>
    /// <param name="supply">Supply of the receiver.</param>
    /// <param name="sender">Name of the sender that it listens to.</param>
    public SerialReceiver(string name, string line, string ground, string supply, string sender)
        : base(name, line, ground, supply)
    {
        Sender = sender;
        Reset();
    }

    /// <summary>Name of the sender.</summary>
    public string Sender { get; set; }

    /// <summary>Part of the supply below which the line is low, 0 to 1.</summary>
    public double LowRatio { get; set; } = 0.3;

    /// <summary>Part of the supply above which the line is high, above <see cref="LowRatio"/>, at most 1.</summary>
    public double HighRatio { get; set; } = 0.7;

    /// <summary>Symbol rate in baud that the receiver is set to, positive.</summary>
    public double Baud { get; set; } = 9600;

    /// <summary>Frequency of its clock relative to the right one, positive.</summary>
    public double ClockRatio { get; set; } = 1;

    /// <summary>Ticks of its clock in a bit, by which the start edge is rounded up; 0 for a start that is seen at once.</summary>
    public int Oversampling { get; set; } = 16;

    /// <summary>Form of a frame.</summary>
    public SerialFrame Frame { get; set; } = new();

    /// <summary>Resistance in ohms of the input towards its ground, positive.</summary>
    public double InputResistance { get; set; } = 1e6;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public string StateName => !now.IsReceiving ? now.IsHigh ? "idle" : "held-low" : $"bit-{now.Bit}";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } =
    [
        "last-byte", "frames", "framing-errors", "parity-errors", "misread-frames", "unnoticed", "lost-frames", "first-misread", "margin-low", "margin-high", "high",
    ];

    private double Bit => 1 / (Baud * ClockRatio);

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Sender = nameOf(Sender);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        s = binder.Node(Nodes[2]);
        (pp, pg, gp, gg) = (binder.Slot(p, p), binder.Slot(p, g), binder.Slot(g, p), binder.Slot(g, g));
        (ss, sg, gs) = (binder.Slot(s, s), binder.Slot(s, g), binder.Slot(g, s));
        sender = binder.Other<SerialSender>(Sender);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var y = 1 / InputResistance;
        loads.G[pp] += y;
        loads.G[pg] -= y;
        loads.G[gp] -= y;
        loads.G[gg] += y + Leak;
        loads.G[ss] += Leak;
        loads.G[sg] -= Leak;
        loads.G[gs] -= Leak;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[LevelGuard] = Away(x);
        values[ClockGuard] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        // One of two guards that are crossed together would stay mute for good, so each serves both.
        var fell = now.IsHigh;
        if (guard == LevelGuard || Away(x) >= 0)
        {
            now = now with { IsHigh = !now.IsHigh };
        }

        fell &= !now.IsHigh;
        if (double.IsFinite(now.Due) && time >= now.Due - Clock.Rounding(now.Due))
        {
            Sample(x);
        }

        // What holds at the start of a run has held for ever, and is no edge.
        if (fell && !now.IsReceiving && time > 0)
        {
            Start(time);
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => now.IsReceiving ? Repetition.None : Repetition.Constant;

    /// <inheritdoc/>
    public void Reset() => now = new Situation { IsHigh = true, Due = double.PositiveInfinity, LastRight = -1 };

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => now.LastByte,
        1 => now.Frames,
        2 => now.FramingErrors,
        3 => now.ParityErrors,
        4 => now.Misread,
        5 => now.Unnoticed,
        6 => Math.Max(0, (sender?.FramesSent ?? 0) - now.Right),
        7 => now.FirstMisread,
        8 => now.MarginLow ?? 0,
        9 => now.MarginHigh ?? 0,
        _ => now.IsHigh ? 1 : 0,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
            Name, ("symbol rate", Baud), ("ratio of the clock", ClockRatio), ("input resistance", InputResistance)))
        {
            yield return problem;
        }

        if (!(LowRatio > 0 && LowRatio < HighRatio && HighRatio < 1))
        {
            yield return $"{Name}: low below {LowRatio} and high above {HighRatio} of the supply; they must lie within 0 and 1, the first below the second.";
        }

        if (Oversampling is < 0 or (> 0 and < 4))
        {
            yield return $"{Name}: {Oversampling} ticks in a bit; there must be 4 at least, or 0 for a start that is seen at once.";
        }

        if (Frame.Problem is { } wrong)
        {
            yield return $"{Name}: {wrong}";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => sender = null;

    /// <summary>By how many volts the line is beyond the threshold that it has to cross next.</summary>
    private double Away(ReadOnlySpan<double> x)
    {
        var (volts, supply) = (x[p] - x[g], x[s] - x[g]);
        return now.IsHigh ? LowRatio * supply - volts : volts - HighRatio * supply;
    }

    private void Start(double time)
    {
        var tick = Oversampling > 0 ? Bit / Oversampling : 0;
        var start = tick > 0 ? Math.Ceiling(time / tick) * tick : time;
        now = now with { IsReceiving = true, Edge = time, Began = start, Bit = 0, Shift = 0, Due = start + 0.5 * Bit };
    }

    private void Sample(ReadOnlySpan<double> x)
    {
        Measure(x);
        var bit = now.Bit;
        if (bit == 0 && now.IsHigh)
        {
            now = now with { IsReceiving = false, Due = double.PositiveInfinity };
        }
        else if (bit == Frame.FirstStop)
        {
            Finish();
        }
        else
        {
            now = now with { Bit = bit + 1, Shift = now.Shift | (now.IsHigh ? 1u << bit : 0), Due = now.Began + (bit + 1.5) * Bit };
        }
    }

    /// <summary>Keeps the worst noise margins: what is left to the data sheet's thresholds, V(IL) - V for a bit that was sent low, V - V(IH) for one that was sent high.</summary>
    private void Measure(ReadOnlySpan<double> x)
    {
        if (sender is null || sender.FrameAt(now.Edge) is not (>= 0 and var frame))
        {
            return;
        }

        var (volts, supply) = (x[p] - x[g], x[s] - x[g]);
        if (Frame.IsHigh(sender.ByteOf(frame), now.Bit))
        {
            now = now with { MarginHigh = Math.Min(now.MarginHigh ?? double.PositiveInfinity, volts - HighRatio * supply) };
        }
        else
        {
            now = now with { MarginLow = Math.Min(now.MarginLow ?? double.PositiveInfinity, LowRatio * supply - volts) };
        }
    }

    private void Finish()
    {
        var value = (byte)(now.Shift >> 1);
        var isFramed = now.IsHigh;
        var isParityRight = Frame.Parity == SerialParity.None || ((now.Shift >> (1 + SerialFrame.DataBits)) & 1) != 0 == Frame.ParityBit(value);
        var isTaken = isFramed && isParityRight;
        var frame = sender?.FrameAt(now.Edge) ?? -1;
        var isRight = isTaken && frame > now.LastRight && value == sender!.ByteOf(frame);
        now = now with
        {
            IsReceiving = false,
            Due = double.PositiveInfinity,
            LastByte = isTaken ? value : now.LastByte,
            Frames = now.Frames + (isTaken ? 1 : 0),
            FramingErrors = now.FramingErrors + (isFramed ? 0 : 1),
            ParityErrors = now.ParityErrors + (isFramed && !isParityRight ? 1 : 0),
            Right = now.Right + (isRight ? 1 : 0),
            LastRight = isRight ? frame : now.LastRight,
            Misread = now.Misread + (isRight ? 0 : 1),
            Unnoticed = now.Unnoticed + (isTaken && !isRight ? 1 : 0),
            FirstMisread = isRight || now.Misread > 0 ? now.FirstMisread : now.Edge,
        };
    }

    private readonly record struct Situation
    {
        public bool IsHigh { get; init; }

        public bool IsReceiving { get; init; }

        /// <summary>Instant of the start edge, and the tick of the clock that the bits are counted from, in seconds.</summary>
        public double Edge { get; init; }

        public double Began { get; init; }

        public int Bit { get; init; }

        /// <summary>Bits read so far, the start bit at place 0.</summary>
        public uint Shift { get; init; }

        public double Due { get; init; }

        public byte LastByte { get; init; }

        public int Frames { get; init; }

        public int FramingErrors { get; init; }

        public int ParityErrors { get; init; }

        public int Right { get; init; }

        public int LastRight { get; init; }

        public int Misread { get; init; }

        public int Unnoticed { get; init; }

        public double FirstMisread { get; init; }

        public double? MarginLow { get; init; }

        public double? MarginHigh { get; init; }
    }
}
