using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Selectors;

/// <summary>
/// A processor's program that reads two coded switches over the same four lines; terminals: supply, ground, enable 1, enable 2, line 0 to line 3. In turn it pulls one enable low, waits for
/// <see cref="Settle"/>, and reads which lines are low: those whose contacts are closed. The other enable is driven high, or left alone by an open-drain output. A position counts once it was read
/// <see cref="Readings"/> times in a row. Inputs have a hysteresis between <see cref="LowRatio"/> and <see cref="HighRatio"/> of the supply.
/// </summary>
public sealed class SelectorScanner : Device, IDiscrete, ITimed, IStates
{
    private const int Lines = 4;
    private const int ClockGuard = 0;
    private const double Leak = 1e-9;

    private int[] lines = new int[Lines];
    private int[] slots = new int[3 * Lines];
    private int s, g, e1, e2;
    private int ss, sg, gs, gg, s1, g1, e11, e1s, e1g, s2, g2, e22, e2s, e2g;
    private Situation now;

    /// <summary>Creates a scanner.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply node.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="enable1">Output that selects the first switch when low.</param>
    /// <param name="enable2">Output that selects the second switch when low.</param>
    /// <param name="inputs">The four inputs, that of the lowest bit first.</param>
    public SelectorScanner(string name, string supply, string ground, string enable1, string enable2, params string[] inputs)
        : base(name, [supply, ground, enable1, enable2, .. inputs])
    {
        if (inputs.Length != Lines)
        {
            throw new ArgumentException($"{name} has {Lines} inputs, not {inputs.Length}.", nameof(inputs));
        }

        Reset();
    }

    /// <summary>Code that the program takes the switches for.</summary>
    public SwitchCode Code { get; set; }

    /// <summary>Time in seconds in which both switches are read once, positive.</summary>
    public double Period { get; set; } = 20e-3;

    /// <summary>Time in seconds from selecting to reading, positive and less than half the period.</summary>
    public double Settle { get; set; } = 200e-6;

    /// <summary>Number of equal readings in a row after which a position counts, 1 or more.</summary>
    public int Readings { get; set; } = 1;

    /// <summary>Resistance in ohms of an enable output that is low, positive.</summary>
    public double SinkResistance { get; set; } = 25;

    /// <summary>Resistance in ohms of an enable output that is high, towards the supply, positive; infinite for an open drain.</summary>
    public double SourceResistance { get; set; } = 40;

    /// <summary>Part of the supply below which an input is low, 0 to 1.</summary>
    public double LowRatio { get; set; } = 0.3;

    /// <summary>Part of the supply above which an input is high, above <see cref="LowRatio"/>, less than 1.</summary>
    public double HighRatio { get; set; } = 0.7;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => Enumerable.Range(0, 3 + Lines).Select(k => new Link(k == 0 ? 0 : k + 1, 1, LinkKind.Conductive));

    /// <inheritdoc/>
    public int GuardCount => 1 + Lines;

    /// <inheritdoc/>
    public string StateName => $"selects-{now.Selected + 1}";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["code-1", "code-2", "position-1", "position-2", "scans", "selected"];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        s = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        e1 = binder.Node(Nodes[2]);
        e2 = binder.Node(Nodes[3]);
        (ss, sg, gs, gg) = (binder.Slot(s, s), binder.Slot(s, g), binder.Slot(g, s), binder.Slot(g, g));
        (e11, e1s, s1, e1g, g1) = (binder.Slot(e1, e1), binder.Slot(e1, s), binder.Slot(s, e1), binder.Slot(e1, g), binder.Slot(g, e1));
        (e22, e2s, s2, e2g, g2) = (binder.Slot(e2, e2), binder.Slot(e2, s), binder.Slot(s, e2), binder.Slot(e2, g), binder.Slot(g, e2));
        for (var k = 0; k < Lines; k++)
        {
            var n = lines[k] = binder.Node(Nodes[4 + k]);
            (slots[3 * k], slots[3 * k + 1], slots[3 * k + 2]) = (binder.Slot(n, n), binder.Slot(n, g), binder.Slot(g, n));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var m = loads.G;
        Output(m, now.Selected == 0, e11, e1s, s1, e1g, g1);
        Output(m, now.Selected == 1, e22, e2s, s2, e2g, g2);
        m[ss] += Leak;
        m[sg] -= Leak;
        m[gs] -= Leak;
        m[gg] += (1 + Lines) * Leak;
        for (var k = 0; k < Lines; k++)
        {
            m[slots[3 * k]] += Leak;
            m[slots[3 * k + 1]] -= Leak;
            m[slots[3 * k + 2]] -= Leak;
        }
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[ClockGuard] = time - now.Due + Clock.Rounding(now.Due);
        for (var k = 0; k < Lines; k++)
        {
            values[1 + k] = Away(k, x);
        }
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        // Guards that are crossed together with this one would stay mute for good, so all are served.
        for (var k = 0; k < Lines; k++)
        {
            if (guard == 1 + k || Away(k, x) >= 0)
            {
                now = now with { High = now.High ^ (1 << k) };
            }
        }

        if (time >= now.Due - Clock.Rounding(now.Due))
        {
            Serve();
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => now.Due > time + Clock.Rounding(time) ? now.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => new(Period, double.PositiveInfinity);

    /// <inheritdoc/>
    public void Reset() => now = new Situation { High = (1 << Lines) - 1, Due = Settle };

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => now.First.Code,
        1 => now.Second.Code,
        2 => now.First.Position,
        3 => now.Second.Position,
        4 => now.Half / 2,
        _ => now.Selected + 1,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
            Name, ("period", Period), ("settling time", Settle), ("sink resistance", SinkResistance), ("source resistance", SourceResistance), ("number of readings", Readings)))
        {
            yield return problem;
        }

        if (!(Settle < Period / 2))
        {
            yield return $"{Name}: settling time {Settle} s; it must be less than half the period of {Period} s.";
        }

        if (!(LowRatio > 0 && LowRatio < HighRatio && HighRatio < 1))
        {
            yield return $"{Name}: low below {LowRatio} and high above {HighRatio} of the supply; they must lie within 0 and 1, the first below the second.";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => (lines, slots) = ([.. lines], [.. slots]);

    private void Output(double[] m, bool isLow, int ee, int es, int se, int eg, int ge)
    {
        var y = isLow ? 1 / SinkResistance : Leak;
        m[ee] += y;
        m[eg] -= y;
        m[ge] -= y;
        m[gg] += y;
        var up = isLow ? 0 : 1 / SourceResistance;
        m[ee] += up;
        m[es] -= up;
        m[se] -= up;
        m[ss] += up;
    }

    private double Away(int line, ReadOnlySpan<double> x)
    {
        var (volts, supply) = (x[lines[line]] - x[g], x[s] - x[g]);
        return ((now.High >> line) & 1) != 0 ? LowRatio * supply - volts : volts - HighRatio * supply;
    }

    /// <summary>Reads the switch that is selected, or selects the other one.</summary>
    private void Serve()
    {
        if (!now.HasRead)
        {
            var contacts = ~now.High & ((1 << Lines) - 1);
            now = now.Selected == 0
                ? now with { First = now.First.With(contacts, Code, Readings) }
                : now with { Second = now.Second.With(contacts, Code, Readings) };
            now = now with { HasRead = true, Due = (now.Half + 1) * Period / 2 };
        }
        else
        {
            var half = now.Half + 1;
            now = now with { HasRead = false, Half = half, Selected = half % 2, Due = half * Period / 2 + Settle };
        }
    }

    /// <summary>What was read of a switch: the last code, how often in a row, and the position that counts.</summary>
    private readonly record struct Seen(int Code, int Times, int Position)
    {
        public Seen With(int contacts, SwitchCode table, int readings)
        {
            var times = contacts == Code ? Math.Min(Times + 1, readings) : 1;
            return new(contacts, times, times >= readings ? table.Position(contacts) : Position);
        }
    }

    private readonly record struct Situation
    {
        /// <summary>Inputs that are high, input 0 at the lowest bit.</summary>
        public int High { get; init; }

        /// <summary>Switch that is selected, from 0, in which half of a period since the start, and whether it has been read.</summary>
        public int Selected { get; init; }

        public int Half { get; init; }

        public bool HasRead { get; init; }

        public double Due { get; init; }

        public Seen First { get; init; }

        public Seen Second { get; init; }
    }
}
