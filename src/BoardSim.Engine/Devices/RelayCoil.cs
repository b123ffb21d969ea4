using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Coil and armature of a relay; terminals: positive, negative. <see cref="RelayContact"/>s follow it by its name.
/// <para>
/// Electrical side: copper resistance by temperature in series with an inductance that rises as the armature closes. The
/// inverse inductance (the reluctance) goes linearly with the armature's position. The flux is the state, so it stays
/// continuous, and the current dips while the armature travels.
/// </para>
/// <para>
/// Mechanical side: at rest until the current's magnitude passes <see cref="PullInCurrent"/>; then the armature travels at
/// constant speed for <see cref="OperateTravel"/>; it falls back, from wherever it is, when the current passes below
/// <see cref="DropOutCurrent"/>, travelling for <see cref="ReleaseTravel"/>. The operate time of a data sheet is the current's rise to pull-in
/// plus the travel, the release time its decay to drop-out plus the travel. In an operating point the armature moves at once.
/// </para>
/// </summary>
public sealed class RelayCoil : Device, IDiscrete, ITimed, ICurrent, IBranch, IInitial, IStates, IDrift
{
    /// <summary>Temperature coefficient of copper in 1/K at 20 degC (IEC 60028, 1925).</summary>
    public const double CopperCoefficient = 0.00393;

    private const double ReferenceTemperature = 293.15;
    private const int CurrentGuard = 0;
    private const int ClockGuard = 1;

    private int p, n, i, flux;
    private int pi, ni, ip, inn, ii, fi, ff, fluxSlot;
    private double ambient, gap;
    private Armature armature;
    private bool isStatic;

    /// <summary>Creates a coil.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node, where a positive current enters.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="resistanceAt20">Resistance of the winding in ohms at 20 degC, positive.</param>
    /// <param name="releasedInductance">Inductance in henries with the armature released, positive.</param>
    /// <param name="pulledInInductance">Inductance in henries with the armature pulled in, positive.</param>
    /// <param name="pullInCurrent">Current in amperes at which the armature starts to close, positive.</param>
    /// <param name="dropOutCurrent">Current in amperes at which it starts to fall back, positive, below the pull-in current.</param>
    public RelayCoil(
        string name,
        string positive,
        string negative,
        double resistanceAt20,
        double releasedInductance,
        double pulledInInductance,
        double pullInCurrent,
        double dropOutCurrent)
        : base(name, positive, negative)
    {
        ResistanceAt20 = resistanceAt20;
        ReleasedInductance = releasedInductance;
        PulledInInductance = pulledInInductance;
        PullInCurrent = pullInCurrent;
        DropOutCurrent = dropOutCurrent;
        armature.Release();
    }

    /// <summary>Resistance of the winding in ohms at 20 degC, positive.</summary>
    public double ResistanceAt20 { get; set; }

    /// <summary>Inductance in henries with the armature released, positive.</summary>
    public double ReleasedInductance { get; set; }

    /// <summary>Inductance in henries with the armature pulled in, positive.</summary>
    public double PulledInInductance { get; set; }

    /// <summary>Current in amperes at which the armature starts to close, positive.</summary>
    public double PullInCurrent { get; set; }

    /// <summary>Current in amperes at which the armature starts to fall back, positive, below the pull-in current.</summary>
    public double DropOutCurrent { get; set; }

    /// <summary>Time in seconds for the whole way from released to pulled in, zero or more.</summary>
    public double OperateTravel { get; set; }

    /// <summary>Time in seconds for the whole way back, zero or more.</summary>
    public double ReleaseTravel { get; set; }

    /// <summary>Position, 0 released to 1 pulled in, beyond which normally open contacts touch.</summary>
    public double MakePosition { get; set; } = 1;

    /// <summary>Position, 0 released to 1 pulled in, beyond which normally closed contacts have parted; below <see cref="MakePosition"/>.</summary>
    public double BreakPosition { get; set; }

    /// <summary>Bounce of the normally open contacts: instants in seconds after they first touch at which they part, touch, part and
    /// touch again; rising, an even number of them. Empty for none.</summary>
    public IReadOnlyList<double> OperateBounce { get; set; } = [];

    /// <summary>Bounce of the normally closed contacts when the armature falls back; as <see cref="OperateBounce"/>.</summary>
    public IReadOnlyList<double> ReleaseBounce { get; set; } = [];

    /// <summary>Temperature of the winding in kelvin, positive; null for the circuit's.</summary>
    public double? Temperature { get; set; }

    /// <summary>Current in amperes at the start of a run from initial conditions; null when it is not given.</summary>
    public double? InitialCurrent { get; set; }

    /// <summary>Resistance of the winding in ohms at its temperature, <c>R20 (1 + 0.00393/K (T - 20 degC))</c>; at the reference temperature
    /// while it is to be the circuit's and there is none.</summary>
    public double Resistance =>
        ResistanceAt20 * (1 + CopperCoefficient * ((Temperature ?? (ambient > 0 ? ambient : ReferenceTemperature)) - ReferenceTemperature));

    /// <summary>True while normally open contacts touch.</summary>
    public bool IsMade => armature.IsMade;

    /// <summary>True while normally closed contacts touch.</summary>
    public bool IsResting => armature.IsResting;

    /// <summary>Instant in seconds at which contacts touched or parted last; minus infinity before they have.</summary>
    public double ChangedAt => armature.ChangedAt;

    /// <inheritdoc/>
    public string StateName => armature.StateName;

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["position", "made"];

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state == 0 ? armature.Position(time) : armature.IsMade ? 1 : 0;

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [flux];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <summary>Position of the armature, 0 released to 1 pulled in.</summary>
    /// <param name="time">Time in seconds, within the present state.</param>
    public double Position(double time) => armature.Position(time);

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        n = binder.Node(Nodes[1]);
        i = binder.Branch();

        // The flux is scaled to that of the released coil at pull-in, so that the error control's floor fits it.
        flux = binder.Internal("flux", UnknownKind.Other);
        (pi, ni, ip, inn) = (binder.Slot(p, i), binder.Slot(n, i), binder.Slot(i, p), binder.Slot(i, n));
        (ii, fluxSlot, fi, ff) = (binder.Slot(i, i), binder.Slot(i, flux), binder.Slot(flux, i), binder.Slot(flux, flux));
        ambient = binder.Circuit.Temperature;
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[pi] += 1;
        loads.G[ni] -= 1;
        loads.G[ip] += 1;
        loads.G[inn] -= 1;
        loads.G[ii] -= Resistance;
        loads.C[fluxSlot] -= ReleasedInductance * PullInCurrent;

        // The second law ties current to flux, both as parts of the pull-in current.
        gap = ReleasedInductance / PulledInInductance - 1;
        loads.G[fi] += 1 / PullInCurrent;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        isStatic = loads.IsStatic;
        var g = -(1 + gap * armature.Position(loads.Time));
        loads.F[flux] += g * loads.X[flux];
        loads.G[ff] += g;
    }

    /// <inheritdoc/>
    public void AddDrift(double time, ReadOnlySpan<double> x, Span<double> rate) => rate[flux] -= gap * armature.SpeedBefore(time) * x[flux];

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var size = Math.Abs(x[i]);
        values[CurrentGuard] = armature.IsDrawn ? DropOutCurrent - size : size - PullInCurrent;

        // Landed on exactly by way of NextCorner; the allowance makes a clock that stops one rounding short count as there.
        var due = armature.Due;
        values[ClockGuard] = double.IsFinite(due) ? time - due + Rounding(due) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        if (guard == CurrentGuard)
        {
            // What holds at the start of a run has held for ever.
            armature.Turn(time, this, atOnce: isStatic || time <= 0);
        }
        else
        {
            armature.Advance(Math.Max(time, armature.Due), this);
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => armature.Due > time + Rounding(time) ? armature.Due : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => double.IsFinite(armature.Due) ? Repetition.None : Repetition.Constant;

    /// <inheritdoc/>
    public object Memory
    {
        get => armature;
        set => armature = (Armature)value;
    }

    /// <inheritdoc/>
    public void Reset()
    {
        isStatic = false;
        armature.Release();
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        if (InitialCurrent is { } amperes)
        {
            initial.Value(i, amperes);
            initial.Value(flux, amperes / PullInCurrent);
        }
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("coil resistance", Resistance),
                ("released inductance", ReleasedInductance),
                ("pulled-in inductance", PulledInInductance),
                ("drop-out current", DropOutCurrent),
                ("temperature in kelvin", Temperature ?? 1))
            .Concat(Ranges.NotNegative(Name, ("operate travel", OperateTravel), ("release travel", ReleaseTravel))))
        {
            yield return problem;
        }

        if (!(PullInCurrent > DropOutCurrent))
        {
            yield return $"{Name}: pull-in current {PullInCurrent} A; it must be above the drop-out current of {DropOutCurrent} A.";
        }

        if (!(BreakPosition >= 0 && BreakPosition < MakePosition && MakePosition <= 1))
        {
            yield return $"{Name}: contacts part at {BreakPosition} and touch at {MakePosition} of the travel; they must lie within 0 and 1, the parting before the touching.";
        }

        foreach (var (what, list) in new[] { ("operate", OperateBounce), ("release", ReleaseBounce) })
        {
            if (list.Count % 2 != 0 || list.Zip(list.Skip(1)).Any(pair => !(pair.First < pair.Second)) || list.Any(t => !(t > 0 && double.IsFinite(t))))
            {
                yield return $"{Name}: {what} bounce {string.Join(", ", list)} s; it must be an even number of positive, rising instants.";
            }
        }
    }

    private static double Rounding(double time) => 4 * (Math.BitIncrement(Math.Abs(time)) - Math.Abs(time));

    /// <summary>Where the armature is, where it goes, and whether the contacts touch; a value, so that a copied coil has its own.</summary>
    private struct Armature
    {
        // Part of the travel by which a position counts as passed, against rounding: of the position itself, and of instants, which half a day after the start are
        // seven picoseconds apart, some billionths of the travel.
        private const double Passed = 1e-9;

        private double from, since, perSecond;
        private bool made, resting;
        private int bounces;
        private double bounceStart;

        /// <summary>True when closing or pulled in, so that the drop-out current decides next.</summary>
        public bool IsDrawn { get; private set; }

        /// <summary>When position or contacts change next, in seconds.</summary>
        public double Due { get; private set; }

        /// <summary>When contacts touched or parted last, in seconds.</summary>
        public double ChangedAt { get; private set; }

        public readonly bool IsMade => made && bounces % 2 == 0;

        public readonly bool IsResting => resting && bounces % 2 == 0;

        public readonly string StateName =>
            perSecond != 0 ? (IsDrawn ? "closing" : "opening") : IsDrawn ? "pulled-in" : "released";

        public readonly double Position(double time) =>
            perSecond == 0 ? from : Math.Clamp(from + (time - since) * perSecond, 0, 1);

        /// <summary>Speed just before an instant, in ways per second.</summary>
        public readonly double SpeedBefore(double time) =>
            perSecond != 0 && time > since && from + (time - since) * perSecond is var way && way > -PassedAt(time) && way < 1 + PassedAt(time) ? perSecond : 0;

        private readonly double PassedAt(double time) => Passed + Rounding(time) * Math.Abs(perSecond);

        public void Release()
        {
            this = default;
            resting = true;
            (Due, ChangedAt) = (double.PositiveInfinity, double.NegativeInfinity);
        }

        /// <summary>Reverses: pulls in when released, falls back when drawn.</summary>
        public void Turn(double time, RelayCoil coil, bool atOnce)
        {
            var before = (IsMade, IsResting);
            from = Position(time);
            since = time;
            IsDrawn = !IsDrawn;
            var travel = atOnce ? 0 : IsDrawn ? coil.OperateTravel : coil.ReleaseTravel;
            perSecond = (IsDrawn ? 1 : -1) / travel;
            if (travel == 0)
            {
                (from, perSecond) = (IsDrawn ? 1 : 0, 0);
            }

            Settle(time, coil, atOnce);
            Note(before, time);
        }

        /// <summary>Takes note of what has come due.</summary>
        public void Advance(double time, RelayCoil coil)
        {
            var before = (IsMade, IsResting);
            if (made || resting)
            {
                var list = Bounce(coil);
                if (bounces < list.Count && bounceStart + list[bounces] <= time)
                {
                    bounces++;
                }
            }

            Settle(time, coil, false);
            Note(before, time);
        }

        private void Note((bool Made, bool Resting) before, double time) => ChangedAt = before == (IsMade, IsResting) ? ChangedAt : time;

        private void Settle(double time, RelayCoil coil, bool atOnce)
        {
            var passed = perSecond == 0 || time <= 0 ? Passed : PassedAt(time);
            var way = IsDrawn ? passed : -passed;
            var position = Position(time) + way;
            if (perSecond != 0 && position is >= 1 or <= 0)
            {
                (from, perSecond) = (IsDrawn ? 1 : 0, 0);
            }

            var (wasMade, wasResting) = (made, resting);
            made = position >= coil.MakePosition;
            resting = position <= coil.BreakPosition;
            if ((made && !wasMade) || (resting && !wasResting))
            {
                (bounces, bounceStart) = (0, time);
                if (atOnce)
                {
                    bounces = Bounce(coil).Count;
                }
            }
            else if (!made && !resting)
            {
                bounces = 0;
            }

            Due = Next(position, coil);
        }

        private readonly IReadOnlyList<double> Bounce(RelayCoil coil) => made ? coil.OperateBounce : coil.ReleaseBounce;

        private readonly double Next(double position, RelayCoil coil)
        {
            var due = double.PositiveInfinity;
            if (perSecond != 0)
            {
                due = Reach(IsDrawn ? 1 : 0);
                due = Math.Min(due, Ahead(position, coil.MakePosition));
                due = Math.Min(due, Ahead(position, coil.BreakPosition));
            }

            if (made || resting)
            {
                var list = Bounce(coil);
                if (bounces < list.Count)
                {
                    due = Math.Min(due, bounceStart + list[bounces]);
                }
            }

            return due;
        }

        private readonly double Ahead(double position, double mark) =>
            IsDrawn ? (mark > position ? Reach(mark) : double.PositiveInfinity) : mark < position ? Reach(mark) : double.PositiveInfinity;

        private readonly double Reach(double mark) => since + (mark - from) / perSecond;
    }
}
