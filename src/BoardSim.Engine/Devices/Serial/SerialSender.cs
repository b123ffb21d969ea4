using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Serial;

/// <summary>
/// Open-drain output of an asynchronous transmitter; terminals: line, ground. It pulls the line low for low bits and lets go of it for high ones and while idle: a pull-up makes
/// the line high. All its instants are known in advance. In an operating point it is idle.
/// </summary>
public sealed class SerialSender : Device, IDiscrete, ITimed, IStates, ICurrent
{
    private const double Leak = 1e-9;

    private int p, g;
    private int pp, pg, gp, gg;
    private double conductance = Leak;
    private Situation now;

    /// <summary>Creates a sender.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="line">Node of the line.</param>
    /// <param name="ground">Ground of the sender's board.</param>
    public SerialSender(string name, string line, string ground)
        : base(name, line, ground) => Reset();

    /// <summary>Bytes that are sent one after the other, again from the first on after the last; at least one.</summary>
    public IReadOnlyList<byte> Message { get; set; } = [0x55];

    /// <summary>Number of frames that are sent, zero or more.</summary>
    public int Frames { get; set; } = 1;

    /// <summary>Form of a frame.</summary>
    public SerialFrame Frame { get; set; } = new();

    /// <summary>Symbol rate in baud, positive.</summary>
    public double Baud { get; set; } = 9600;

    /// <summary>Instant in seconds of the first start bit, positive.</summary>
    public double Start { get; set; } = 1e-3;

    /// <summary>Idle time in seconds between two frames, zero or more.</summary>
    public double Gap { get; set; }

    /// <summary>Resistance in ohms towards the ground while it pulls the line low, positive.</summary>
    public double OnResistance { get; set; } = 25;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 1;

    /// <inheritdoc/>
    public string StateName => now.IsLow ? "low" : "high";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["frames-begun", "frames-sent", "byte", "high"];

    private double Period => Frame.Bits / Baud + Gap;

    /// <summary>Number of the frame that was begun last at or before an instant, from 0; -1 before the first.</summary>
    /// <param name="time">Time in seconds.</param>
    public int FrameAt(double time) => (int)Math.Clamp(Math.Floor((time - Start) / Period + 1e-9), -1, Frames - 1);

    /// <summary>The byte of a frame.</summary>
    /// <param name="frame">Number of the frame, from 0.</param>
    public byte ByteOf(int frame) => Message[frame % Message.Count];

    /// <summary>Number of frames whose last stop bit has ended.</summary>
    public int FramesSent => now.Sent;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        (pp, pg, gp, gg) = (binder.Slot(p, p), binder.Slot(p, g), binder.Slot(g, p), binder.Slot(g, g));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var y = conductance = now.IsLow ? 1 / OnResistance : Leak;
        loads.G[pp] += y;
        loads.G[pg] -= y;
        loads.G[gp] -= y;
        loads.G[gg] += y;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values) =>
        values[0] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        // Without a gap the next frame begins where one ends.
        for (var due = now.Due; now.Due <= due;)
        {
            Serve();
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(now.Due) ? Repetition.None : Repetition.Constant;

    /// <inheritdoc/>
    public void Reset()
    {
        now = new Situation { Due = double.PositiveInfinity };
        Next(0, 0);
    }

    /// <summary>Current in amperes that the output takes from the line.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => (x[p] - x[g]) * conductance;

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => now.Begun,
        1 => now.Sent,
        2 => now.Begun > 0 ? ByteOf(now.Begun - 1) : 0,
        _ => now.IsLow ? 0 : 1,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(Name, ("symbol rate", Baud), ("start", Start), ("on resistance", OnResistance))
            .Concat(Ranges.NotNegative(Name, ("gap", Gap), ("number of frames", Frames))))
        {
            yield return problem;
        }

        if (Message.Count == 0)
        {
            yield return $"{Name}: no bytes to send; there must be one at least.";
        }

        if (Frame.Problem is { } wrong)
        {
            yield return $"{Name}: {wrong}";
        }
    }

    private void Serve()
    {
        var ended = now.Bit == Frame.Bits;
        now = now with
        {
            IsLow = !ended && !Frame.IsHigh(ByteOf(now.Frame), now.Bit),
            Begun = now.Bit == 0 ? now.Begun + 1 : now.Begun,
            Sent = ended ? now.Sent + 1 : now.Sent,
        };
        Next(ended ? now.Frame + 1 : now.Frame, ended ? 0 : now.Bit + 1);
    }

    /// <summary>Sets the instant at which the level changes next, or the frame ends; runs of equal bits cost nothing.</summary>
    private void Next(int frame, int bit)
    {
        if (frame >= Frames)
        {
            now = now with { Due = double.PositiveInfinity };
            return;
        }

        while (bit > 0 && bit < Frame.Bits && Frame.IsHigh(ByteOf(frame), bit) != now.IsLow)
        {
            bit++;
        }

        now = now with { Frame = frame, Bit = bit, Due = bit == Frame.Bits && Gap == 0 ? Start + (frame + 1) * Period : Start + frame * Period + bit / Baud };
    }

    /// <summary>Level, what was sent so far, and the bit that is served next: the frame's length stands for its end.</summary>
    private readonly record struct Situation
    {
        public bool IsLow { get; init; }

        public int Begun { get; init; }

        public int Sent { get; init; }

        public int Frame { get; init; }

        public int Bit { get; init; }

        public double Due { get; init; }
    }
}
