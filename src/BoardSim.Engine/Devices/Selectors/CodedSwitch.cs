using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Selectors;

/// <summary>
/// Rotary switch with sixteen positions and four coded contacts; terminals: common, contact 0 to contact 3. It may be turned once: from one position to another, detent by
/// detent; within a step its contacts move one after the other, contact 0 first, over <see cref="Skew"/>. In an operating point it rests at its first position.
/// </summary>
public sealed class CodedSwitch : Device, IDiscrete, ITimed, IStates
{
    private const int Contacts = 4;
    private const double Leak = 1e-10;

    private readonly int[] nodes = new int[Contacts + 1];
    private int[] slots = new int[4 * Contacts];
    private Situation now;

    /// <summary>Creates a switch.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="common">Node of the common contact.</param>
    /// <param name="contact0">Node of the contact of the lowest bit.</param>
    /// <param name="contact1">Node of the next contact.</param>
    /// <param name="contact2">Node of the next contact.</param>
    /// <param name="contact3">Node of the contact of the highest bit.</param>
    public CodedSwitch(string name, string common, string contact0, string contact1, string contact2, string contact3)
        : base(name, common, contact0, contact1, contact2, contact3) => Reset();

    /// <summary>Which contacts are closed at which position.</summary>
    public SwitchCode Code { get; set; }

    /// <summary>Position at the start, 0 to 15.</summary>
    public int Position { get; set; }

    /// <summary>Position that it is turned to, 0 to 15.</summary>
    public int TurnTo { get; set; }

    /// <summary>When it leaves its first position, in seconds, positive; infinite for never.</summary>
    public double TurnAt { get; set; } = double.PositiveInfinity;

    /// <summary>Time in seconds from one detent to the next, positive.</summary>
    public double StepTime { get; set; } = 60e-3;

    /// <summary>Time in seconds from the first to the last contact within a step, zero or more and less than <see cref="StepTime"/>.</summary>
    public double Skew { get; set; } = 2e-3;

    /// <summary>Resistance of a closed contact in ohms, positive.</summary>
    public double OnResistance { get; set; } = 0.05;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => Enumerable.Range(1, Contacts).Select(k => new Link(0, k, LinkKind.Conductive));

    /// <inheritdoc/>
    public int GuardCount => 1;

    /// <inheritdoc/>
    public string StateName => $"{now.Position}";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["position", "contacts"];

    private int Steps => double.IsFinite(TurnAt) ? Math.Abs(TurnTo - Position) : 0;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        for (var k = 0; k <= Contacts; k++)
        {
            nodes[k] = binder.Node(Nodes[k]);
        }

        for (var k = 0; k < Contacts; k++)
        {
            var (c, n) = (nodes[0], nodes[k + 1]);
            (slots[4 * k], slots[4 * k + 1], slots[4 * k + 2], slots[4 * k + 3]) = (binder.Slot(c, c), binder.Slot(c, n), binder.Slot(n, c), binder.Slot(n, n));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        for (var k = 0; k < Contacts; k++)
        {
            var y = ((now.Closed >> k) & 1) != 0 ? 1 / OnResistance : Leak;
            loads.G[slots[4 * k]] += y;
            loads.G[slots[4 * k + 1]] -= y;
            loads.G[slots[4 * k + 2]] -= y;
            loads.G[slots[4 * k + 3]] += y;
        }
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values) =>
        values[0] = double.IsFinite(now.Due) ? time - now.Due + Clock.Rounding(now.Due) : -1;

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        // Without a skew all contacts move at one instant.
        for (var due = now.Due; now.Due <= due;)
        {
            Move();
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(now.Due) ? Repetition.None : Repetition.Constant;

    /// <inheritdoc/>
    public void Reset()
    {
        now = new Situation(Position, Code.Contacts(Position), 0, 0, double.PositiveInfinity);
        Next(0, 0);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state == 0 ? now.Position : now.Closed;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(Name, ("step time", StepTime), ("on resistance", OnResistance), ("instant of turning", TurnAt))
            .Concat(Ranges.NotNegative(Name, ("skew", Skew))))
        {
            yield return problem;
        }

        if (Position is < 0 or >= SwitchCodes.Positions || TurnTo is < 0 or >= SwitchCodes.Positions)
        {
            yield return $"{Name}: position {Position}, turned to {TurnTo}; they must lie between 0 and {SwitchCodes.Positions - 1}.";
        }

        if (!(Skew < StepTime))
        {
            yield return $"{Name}: skew {Skew} s; it must be shorter than the step of {StepTime} s.";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => slots = [.. slots];

    /// <summary>Moves the contact that is due; after the last one the switch rests in its next detent.</summary>
    private void Move()
    {
        var target = Position + Math.Sign(TurnTo - Position) * (now.Step + 1);
        if (now.Contact < Contacts)
        {
            var bit = 1 << now.Contact;
            now = now with { Closed = (now.Closed & ~bit) | (Code.Contacts(target) & bit) };
            Next(now.Step, now.Contact + 1);
        }
        else
        {
            now = now with { Position = target };
            Next(now.Step + 1, 0);
        }
    }

    private void Next(int step, int contact) => now = now with
    {
        Step = step,
        Contact = contact,
        Due = step < Steps ? TurnAt + step * StepTime + Skew * Math.Min(contact, Contacts - 1) / (Contacts - 1) : double.PositiveInfinity,
    };

    /// <summary>Detent that it rests in, closed contacts, and the contact of the step that moves next; their number stands for the end of the step.</summary>
    private readonly record struct Situation(int Position, int Closed, int Step, int Contact, double Due);
}
