using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// What a converter's controller does slower than its switching, the same in switching and in cycle-averaged detail: under-voltage
/// lock-out with start and run current, feedback pull-up, soft start, and the overload timer after which it stops until its supply has fallen
/// and risen again (hiccup). Terminals begin with: supply, return, feedback.
/// </summary>
public abstract class ConverterController : Device, IDiscrete, ITimed, IStates
{
    /// <summary>Number of guards that the derived device's own follow after.</summary>
    protected const int SlowGuards = 3;

    private const int SupplyGuard = 0;
    private const int LimitGuard = 1;
    private const int OverloadGuard = 2;

    // Part of the level at which the limit is asked for by which the feedback must fall before the timer starts anew.
    private const double LimitBand = 0.02;

    private int ss, sr, rs, rr, ff, fr, rf;
    private Slow slow;

    /// <summary>Creates a controller.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="parameters">What it is set to.</param>
    /// <param name="nodes">Supply, return, feedback, and the derived device's own.</param>
    protected ConverterController(string name, ControllerParameters parameters, params string[] nodes)
        : base(name, nodes)
    {
        ArgumentNullException.ThrowIfNull(parameters);
        Parameters = parameters;
        slow.Stop();
    }

    /// <summary>What the controller is set to.</summary>
    public ControllerParameters Parameters { get; set; }

    /// <summary>True while it switches.</summary>
    public bool IsRunning => slow.Mode == Mode.Running;

    /// <summary>Times that it has started.</summary>
    public int Starts => slow.Starts;

    /// <summary>Times that the overload timer has stopped it.</summary>
    public int Overloads => slow.Overloads;

    /// <inheritdoc/>
    public string StateName => slow.Mode switch
    {
        Mode.Running => "running",
        Mode.Waiting => "stopped",
        _ => "off",
    };

    /// <inheritdoc/>
    /// <remarks>At its limit it is about to stop, which the same word without that is not.</remarks>
    public string RestState => slow.IsLimited ? StateName + ", limited" : StateName;

    /// <inheritdoc/>
    public virtual int GuardCount => SlowGuards;

    /// <inheritdoc/>
    public virtual IReadOnlyList<string> States { get; } = ["running", "starts", "overloads"];

    /// <summary>Index of the supply, the return and the feedback pin.</summary>
    protected int Supply { get; private set; }

    /// <summary>Index of the return.</summary>
    protected int Return { get; private set; }

    /// <summary>Index of the feedback pin.</summary>
    protected int Feedback { get; private set; }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (Supply, Return, Feedback) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]));
        (ss, sr, rs, rr) = (binder.Slot(Supply, Supply), binder.Slot(Supply, Return), binder.Slot(Return, Supply), binder.Slot(Return, Return));
        (ff, fr, rf) = (binder.Slot(Feedback, Feedback), binder.Slot(Feedback, Return), binder.Slot(Return, Feedback));
    }

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [Feedback, Supply];

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        if (loads.IsAtRest)
        {
            // At direct current time does not pass: a converter that runs there has started long ago, and one at its limit has been there too long.
            slow.Since = double.NegativeInfinity;
            slow.OverloadDue = slow.IsLimited ? loads.Time : double.PositiveInfinity;
        }

        var g = (slow.Mode == Mode.Running ? Parameters.RunCurrent : slow.Mode == Mode.Waiting ? WaitShare * Parameters.RunCurrent : Parameters.StartCurrent) / Parameters.StartVoltage;
        loads.G[ss] += g;
        loads.G[sr] -= g;
        loads.G[rs] -= g;
        loads.G[rr] += g;

        // Without its own supply the pull-up is dead, and the pin is held down by what is behind it.
        var pull = 1 / Parameters.FeedbackPullUp;
        loads.G[ff] += pull;
        loads.G[fr] -= pull;
        loads.G[rf] -= pull;
        loads.G[rr] += pull;
    }

    /// <inheritdoc/>
    public override void Excite(Loads loads)
    {
        if (slow.Mode != Mode.Off)
        {
            // The pull-up's current comes out of the supply pin.
            var amperes = loads.SourceScale * Parameters.FeedbackSupply / Parameters.FeedbackPullUp;
            loads.F[Feedback] -= amperes;
            loads.F[Supply] += amperes;
        }
    }

    /// <inheritdoc/>
    public virtual void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var supply = x[Supply] - x[Return];
        values[SupplyGuard] = slow.Mode == Mode.Off ? supply - Parameters.StartVoltage : Parameters.StopVoltage - supply;
        var beyond = x[Feedback] - x[Return] - Parameters.FeedbackAtLimit;
        values[LimitGuard] = slow.Mode != Mode.Running ? -1 : slow.IsLimited ? -beyond - LimitBand * Parameters.FeedbackAtLimit : beyond;
        values[OverloadGuard] = Clock(time, slow.OverloadDue);
    }

    /// <inheritdoc/>
    public virtual void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        switch (guard)
        {
            case SupplyGuard when slow.Mode == Mode.Off:
                slow.Start(time);
                Started(time);
                break;
            case SupplyGuard:
                slow.Stop();
                Stopped();
                break;
            case LimitGuard when slow.IsLimited:
                (slow.IsLimited, slow.OverloadDue) = (false, double.PositiveInfinity);
                break;
            case LimitGuard:
                (slow.IsLimited, slow.OverloadDue) = (true, time + Parameters.OverloadDelay);
                break;
            case OverloadGuard:
                slow.Overload();
                Stopped();
                break;
        }
    }

    /// <inheritdoc/>
    public virtual double NextCorner(double time)
    {
        var due = slow.OverloadDue;
        var full = slow.SoftStartEnd(Parameters);
        var next = due > time + Rounding(time) ? due : double.PositiveInfinity;
        return full > time + Rounding(time) ? Math.Min(next, full) : next;
    }

    /// <inheritdoc/>
    public virtual Repetition RepetitionAt(double time) => Repetition.None;

    /// <inheritdoc/>
    public virtual void Shift(double seconds)
    {
    }

    /// <inheritdoc/>
    public virtual bool IsSteady(double from, double to) => true;

    /// <inheritdoc/>
    public virtual void Reset()
    {
        slow = default;
        slow.Stop();
        Stopped();
    }

    /// <inheritdoc/>
    public virtual object Memory
    {
        get => slow;
        set => slow = (Slow)value;
    }

    /// <inheritdoc/>
    /// <remarks>A converter that stops for an overload on its way up stays stopped where its start resistor carries what it draws then.</remarks>
    public IReadOnlyList<object> RestMemories
    {
        get
        {
            var now = Memory;
            slow.Start(double.NegativeInfinity);
            slow.Overload();
            Stopped();
            var stopped = Memory;
            Memory = now;
            return [stopped];
        }
    }

    /// <inheritdoc/>
    public virtual double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => IsRunning ? 1 : 0,
        1 => slow.Starts,
        _ => slow.Overloads,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Parameters.Problems(Name);

    /// <summary>The next instant in seconds at which the overload timer runs out or the soft start ends, infinite when both are over.</summary>
    /// <param name="time">Present time in seconds.</param>
    protected double Deadline(double time) =>
        Math.Min(slow.OverloadDue, SoftStartShare(time) < 1 ? slow.SoftStartEnd(Parameters) : double.PositiveInfinity);

    /// <summary>Called when it begins to switch.</summary>
    protected virtual void Started(double time)
    {
    }

    /// <summary>Called when it ceases to switch.</summary>
    protected virtual void Stopped()
    {
    }

    /// <summary>Share of the full current that the soft start allows, 0 to 1.</summary>
    protected double SoftStartShare(double time) => slow.Mode == Mode.Running ? Math.Clamp((time - slow.Since) / Parameters.SoftStart, 0, 1) : 0;

    /// <summary>Guard of a clock: rises through zero at the instant that is due.</summary>
    /// <remarks>Landed on exactly by way of <see cref="NextCorner"/>; the allowance makes a clock that stops one rounding short count as there.</remarks>
    protected static double Clock(double time, double due) => double.IsFinite(due) ? time - due + Rounding(due) : -1;

    /// <summary>Allowance for the rounding of an instant, in seconds.</summary>
    protected static double Rounding(double time) => 4 * (Math.BitIncrement(Math.Abs(time)) - Math.Abs(time));

    // A controller that waits for its supply to fall keeps its references alive and drives no gate.
    private const double WaitShare = 0.3;

    private enum Mode
    {
        Off,
        Running,
        Waiting,
    }

    private struct Slow
    {
        public Mode Mode;
        public double Since;
        public double OverloadDue;
        public bool IsLimited;
        public int Starts;
        public int Overloads;

        public void Start(double time)
        {
            (Mode, Since, IsLimited, OverloadDue) = (Mode.Running, time, false, double.PositiveInfinity);
            Starts++;
        }

        public void Stop() => (Mode, IsLimited, OverloadDue) = (Mode.Off, false, double.PositiveInfinity);

        public void Overload()
        {
            Stop();
            Mode = Mode.Waiting;
            Overloads++;
        }

        public readonly double SoftStartEnd(ControllerParameters parameters) => Mode == Mode.Running ? Since + parameters.SoftStart : double.PositiveInfinity;
    }
}
