using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// Current-mode controller in switching detail; terminals: supply, return, feedback, sense, gate. A clock turns the gate on; it goes off when
/// the sense voltage with the slope compensation reaches what the feedback pin asks for, or when the maximum duty is over. A
/// <see cref="ControlledSwitch"/> follows it by its name.
/// </summary>
public sealed class CurrentModeController : ConverterController
{
    private const int SenseGuard = SlowGuards;
    private const int ClockGuard = SlowGuards + 1;

    private int sense, gate;
    private int gg, gs, sg, ss, gr, rg, rr;
    private Fast fast;

    /// <summary>Creates a controller.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply pin.</param>
    /// <param name="return">Return pin.</param>
    /// <param name="feedback">Feedback pin, pulled up inside.</param>
    /// <param name="sense">Sense pin: the switch current's voltage across the sense resistor.</param>
    /// <param name="gate">Gate drive, from the supply.</param>
    /// <param name="parameters">What it is set to.</param>
    public CurrentModeController(string name, string supply, string @return, string feedback, string sense, string gate, ControllerParameters parameters)
        : base(name, parameters, supply, @return, feedback, sense, gate) => fast.Idle();

    /// <summary>Output resistance of the gate drive in ohms, positive.</summary>
    public double GateResistance { get; set; } = 20;

    /// <summary>True while the gate is driven high.</summary>
    public bool IsGateOn => fast.IsOn;

    /// <inheritdoc/>
    public override int GuardCount => SlowGuards + 2;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links =>
        [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive), new(4, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override object Memory
    {
        get => (base.Memory, fast);
        set => (base.Memory, fast) = ((object, Fast))value;
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        base.Bind(binder);
        (sense, gate) = (binder.Node(Nodes[3]), binder.Node(Nodes[4]));
        (gg, gs, sg, ss) = (binder.Slot(gate, gate), binder.Slot(gate, Supply), binder.Slot(Supply, gate), binder.Slot(Supply, Supply));
        (gr, rg, rr) = (binder.Slot(gate, Return), binder.Slot(Return, gate), binder.Slot(Return, Return));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        base.StampConstant(loads);
        var g = 1 / GateResistance;
        loads.G[gg] += g;
        if (fast.IsOn)
        {
            loads.G[gs] -= g;
            loads.G[sg] -= g;
            loads.G[ss] += g;
        }
        else
        {
            loads.G[gr] -= g;
            loads.G[rg] -= g;
            loads.G[rr] += g;
        }
    }

    /// <inheritdoc/>
    public override void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        base.Guards(time, x, values);
        values[SenseGuard] = fast.IsOn && time >= fast.BlankedUntil - Rounding(time)
            ? x[sense] - x[Return] + Parameters.Slope * (time - fast.OnSince) - Threshold(time, x)
            : -1;
        values[ClockGuard] = Clock(time, fast.Due);
    }

    /// <inheritdoc/>
    public override void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        switch (guard)
        {
            case SenseGuard:
                fast.TurnOff(Parameters);
                break;
            case ClockGuard when fast.IsOn:
                fast.TurnOff(Parameters);
                break;
            case ClockGuard:
                fast.Edge(Math.Max(time, fast.Due), Parameters, Threshold(time, x) > Parameters.SkipLevel);
                break;
            default:
                base.Cross(guard, time, x);
                break;
        }
    }

    /// <inheritdoc/>
    public override double NextCorner(double time)
    {
        var next = base.NextCorner(time);
        if (fast.Due > time + Rounding(time))
        {
            next = Math.Min(next, fast.Due);
        }

        return fast.IsOn && fast.BlankedUntil > time + Rounding(time) ? Math.Min(next, fast.BlankedUntil) : next;
    }

    /// <inheritdoc/>
    public override Repetition RepetitionAt(double time) =>
        new(1 / Parameters.Frequency, IsRunning ? Deadline(time) : time, fast.NextEdge(Parameters));

    /// <inheritdoc/>
    public override void Shift(double seconds) => fast.Shift(seconds, Parameters);

    /// <inheritdoc/>
    protected override void Started(double time) => fast.Begin(time, Parameters);

    /// <inheritdoc/>
    protected override void Stopped() => fast.Idle();

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => base.Problems().Concat(Ranges.Positive(Name, ("gate resistance", GateResistance)));

    /// <summary>Sense voltage in volts that turns the switch off.</summary>
    private double Threshold(double time, ReadOnlySpan<double> x)
    {
        var asked = (x[Feedback] - x[Return] - Parameters.FeedbackOffset) / Parameters.FeedbackDivider;
        return Math.Min(asked, Parameters.SenseLimit * SoftStartShare(time));
    }

    private struct Fast
    {
        public bool IsOn;
        public double OnSince;
        public double BlankedUntil;
        public double Due;

        private double origin;
        private long cycle;

        public void Idle() => (IsOn, Due, BlankedUntil) = (false, double.PositiveInfinity, double.PositiveInfinity);

        // Edges are counted from the start of the clock: a sum of periods would drift.
        public void Begin(double time, ControllerParameters p)
        {
            Idle();
            (origin, cycle) = (time, 1);
            Due = time + 1 / p.Frequency;
        }

        public void Edge(double time, ControllerParameters p, bool on)
        {
            cycle++;
            if (!on)
            {
                Due = NextEdge(p);
                return;
            }

            (IsOn, OnSince, BlankedUntil) = (true, time, time + p.Blanking);
            Due = time + p.MaximumDuty / p.Frequency;
        }

        public readonly double NextEdge(ControllerParameters p) => origin + cycle / p.Frequency;

        public void Shift(double seconds, ControllerParameters p)
        {
            cycle += (long)Math.Round(seconds * p.Frequency);
            OnSince += seconds;
            BlankedUntil += seconds;
            Due = IsOn ? Due + seconds : double.IsFinite(Due) ? NextEdge(p) : Due;
        }

        public void TurnOff(ControllerParameters p) => (IsOn, Due, BlankedUntil) = (false, NextEdge(p), double.PositiveInfinity);
    }
}
