using System.Diagnostics;
using BoardSim.Engine.Analyses.WideSteps;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// The transient loop, pulled one accepted point at a time: predict, solve, estimate the error, accept or go back, serve
/// events. It knows no device and no method in particular. Not thread-safe; one run per compiled system at a time.
/// </summary>
public sealed class TransientRun : IDisposable
{
    /// <summary>Share of the accuracy asked that one step may use up: local errors add up over a run.</summary>
    private const double LocalShare = 0.1;

    /// <summary>The most that it may be: with steps too long for their estimates to be believed, errors add up faster.</summary>
    private const double LoosestLocal = 5e-4;

    /// <summary>Length of the Euler step that the start is found by, relative to the run.</summary>
    private const double StartShare = 1e-13;

    /// <summary>Length, relative to the run, below which that step is not made shorter for the sake of the power balance.</summary>
    private const double StepInShare = 1e-12;

    /// <summary>Length of the Euler step after a discontinuity, relative to the step that is hoped for afterwards.</summary>
    private const double EulerShare = 1e-5;

    /// <summary>The longest that it may be, relative to the run: the value after a jump is recorded at its end.</summary>
    private const double LongestEuler = 5e-7;

    /// <summary>Accuracy of an event's instant, relative to the length of the run.</summary>
    private const double EventShare = 1e-11;

    /// <summary>The peaks that tolerances are relative to fade by this many e-folds over the run.</summary>
    private const double FadeRate = 5;

    /// <summary>Current that may be left over at a node, relative to the largest branch current and the accuracy asked.</summary>
    private const double CurrentShare = 0.1;

    /// <summary>
    /// Distance of the dense output from the inner stage, in tolerances of a step, beyond which the step is made shorter: a
    /// diode began to conduct inside, and what lies between the points would be drawn wrong.
    /// </summary>
    private const double DenseLimit = 12;

    /// <summary>Shortest step, relative to the run, that is made shorter still for that: nobody sees what happens below.</summary>
    private const double DenseShare = 1e-9;

    /// <summary>Step, relative to the run, below which an estimate that does not fall is no error of the step: above it there may be a
    /// relaxation that is faster still (a capacitor charging at power-up), and a step across it misses its energy.</summary>
    private const double ForcedShare = 1e-10;

    /// <summary>Growth of the step after Newton failed or the solution bent too sharply, and for how many steps.</summary>
    private const double CautiousGrowth = 1.25;

    private const int CautiousSteps = 8;

    /// <summary>Step, relative to the run, below which the power balance has no say: charges and fluxes, rounded, divided by so short a
    /// step, make currents of their own where windings are coupled perfectly.</summary>
    private const double BalanceShare = 1e-9;

    /// <summary>
    /// Share of what an unknown has shown of late that rounding may make of it within a step. Where charges are carried past each other on an island that hangs on an opened lead, or windings are coupled
    /// perfectly, that grows with the reciprocal of the step: the last place of a charge over so short a time is a current, that by the leak's ohms is volts, whose own last place is more than the charge's.
    /// </summary>
    private const double NoisyShare = 1.5e-3;

    /// <summary>Longest step, relative to the run, that an error estimate is overruled for on that account.</summary>
    private const double LongestNoisy = 1e-6;

    /// <summary>Longest Euler step on that account, relative to the step that is hoped for afterwards.</summary>
    private const double NoisyEulerShare = 0.01;

    /// <summary>Least and most that the Euler step is lengthened by at once.</summary>
    private const double ShortestLeap = 2;
    private const double LongestLeap = 1e4;

    /// <summary>Attempts at the step in that are made shorter where Newton fails.</summary>
    private const int MostStepsIn = 9;

    /// <summary>Step, relative to the run, that counts as time passing between two breaks.</summary>
    private const double PassingShare = 1e-9;

    /// <summary>Changes of state in a row, no time passing, after which one device at a time is switched and time is made to pass.</summary>
    private const int ManyBreaks = 3;

    /// <summary>Octaves by which each further one makes the step in longer, and how many of them do.</summary>
    private const int SlackOctaves = 3;

    private const int MostSlack = 16;

    /// <summary>Most that the first step after a discontinuity is hoped to be longer the next time.</summary>
    private const double MostHope = 20;

    /// <summary>Growth of a first step from one time to the next: one refused now and then costs less than many that are too short.</summary>
    private const double HopeGrowth = 1.5;

    /// <summary>Growth of what is remembered of a first step that was found by shortening it until shortening did not help.</summary>
    private const double ShyGrowth = 2;

    /// <summary>Shorter steps in a row that did not help the dense output, after which it is left alone: a kink may lie worse in a shorter step before it lies better.</summary>
    private const int VainBends = 2;

    /// <summary>For so many steps it is left alone at first and at most: noise does not go away, and each look at it costs steps.</summary>
    private const int DenseRest = 2;

    private const int LongestDenseRest = 64;

    /// <summary>Multiple of what was left alone beyond which it is something else: a diode begins to conduct.</summary>
    private const double FreshBend = 4;

    /// <summary>Steps of one length after which a longer one is tried, at first and at most, and by how much longer it is.</summary>
    private const int Patience = 32;

    private const int MostPatience = 512;

    private const double TrialGrowth = 2;

    /// <summary>Stages of the wide steps that smooth stretches are taken with.</summary>
    private const int WideStages = 5;

    /// <summary>What a wide step's polynomial may leave out, in tolerances of a step.</summary>
    private const double WideLimit = 1;

    private readonly CircuitSystem system;
    private readonly TransientOptions options;
    private readonly StageMethod method;
    private readonly SolverCounters counters = new();
    private readonly NewtonSolver newton;
    private readonly StageSolver stages;
    private readonly ErrorScale scale;
    private readonly EventGuards guards;
    private readonly SourceCorners corners;
    private readonly EnergyBook energy;
    private readonly CrossingSearch crossings;
    private readonly List<CircuitEvent> events = [];
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private readonly string start;
    private readonly WideStepSolver? wide;
    private readonly WidePace pace;
    private readonly bool[] followsFromRates;
    private readonly double[] wideState;
    private bool isWide;
    private double step;
    private readonly FirstSteps hopes;
    private int breaksInARow;
    private double rowBegan;
    private bool afterBreak;
    private bool hoped;
    private bool restart = true;
    private bool smooth;
    private bool pending;
    private bool rated;
    private int denseRest;
    private int nextRest = DenseRest;
    private double missedInVain;
    private int caution;
    private int kept;
    private int patience = Patience;
    private bool isTrial;
    private bool jumped;
    private double noise;

    /// <summary>Prepares a run: checks the structure and finds the start.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="options">Settings.</param>
    /// <exception cref="ArgumentOutOfRangeException">A setting is out of range.</exception>
    /// <exception cref="CircuitException">The structure is unsound.</exception>
    /// <exception cref="OperationCanceledException">Cancelled while the operating point was looked for.</exception>
    /// <exception cref="SolverException">No operating point was found, or not within the time limit.</exception>
    public TransientRun(CircuitSystem system, TransientOptions options)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(options);
        options.Validate();
        this.system = system;
        this.options = options;
        method = options.Method ?? DefaultMethod(options.Accuracy);
        StructureCheck.ThrowIfUnsound(system.Circuit, forDirectCurrent: !options.UseInitialConditions);
        newton = new NewtonSolver(system, counters) { CurrentScale = ErrorScale.Floor(UnknownKind.Current), CurrentTolerance = CurrentShare * options.Accuracy };
        followsFromRates = HigherIndex.Find(system);
        stages = new StageSolver(system, newton, method, followsFromRates);
        wide = options.Method is null ? WideStepSolver.For(system, counters, WideStages) : null;
        wideState = new double[system.Size + 1];
        scale = new ErrorScale(system);
        guards = new EventGuards(system);
        pace = new WidePace(WideStages, WideLimit, wide?.Worth ?? 0, guards.Count + system.Timed.Length + 1);
        corners = new SourceCorners(system.Timed);
        energy = new EnergyBook(system.EnergySign);
        crossings = new CrossingSearch(stages, guards, system.Size + 1);
        hopes = new FirstSteps(guards.Count + system.Timed.Length + 1);
        start = Begin();
        newton.CurrentScale = scale.LargestCurrent;
        step = Math.Min(options.Stop * 1e-4, corners.Next(0, out _) * 0.05);
    }

    /// <summary>Instant of the last accepted point, in seconds.</summary>
    public double Time { get; private set; }

    /// <summary>Instant of the accepted point before it, in seconds.</summary>
    public double PreviousTime { get; private set; }

    /// <summary>The unknowns at <see cref="Time"/>, element 0 is the ground. Valid until the next call of <see cref="Advance"/>.</summary>
    public double[] State => pending ? stages.Values[^1] : stages.Values[0];

    /// <summary>How the run stands.</summary>
    public RunStatus Status { get; private set; } = RunStatus.Running;

    /// <summary>Changes of discrete states so far.</summary>
    public IReadOnlyList<CircuitEvent> Events => events;

    /// <summary>What the run did and how well its equations hold, up to now.</summary>
    public SolverEvidence Evidence => new()
    {
        Points = counters.Points,
        Rejected = counters.Rejected,
        Forced = counters.Forced,
        NewtonIterations = counters.Iterations,
        Factorizations = counters.Factorizations,
        Events = counters.Events,
        WorstKclResidual = counters.WorstKcl,
        WorstHeatResidual = counters.WorstHeat,
        PowerBalance = energy.Imbalance,
        SourceEnergy = energy.Delivered,
        Start = start,
        WallSeconds = watch.Elapsed.TotalSeconds,
    };

    /// <summary>Computes the next accepted point.</summary>
    /// <returns>False when the run has ended; see <see cref="Status"/>.</returns>
    /// <exception cref="SolverException">The run got stuck; the message names time, step, worst unknown and part.</exception>
    public bool Advance()
    {
        if (Status != RunStatus.Running || MustStop())
        {
            return false;
        }

        if (pending)
        {
            stages.Advance(smooth && !restart);
            pending = false;
        }

        PreviousTime = Time;
        (isWide, IsPassing) = (false, false);
        if (restart)
        {
            StepIn();
        }
        else
        {
            StepOn();
        }

        if (isWide)
        {
            energy.Book(wide!.AbsorbedEnergy, wide.SourceEnergy, wide.StoredEnergy);
        }
        else
        {
            energy.Book(stages);
        }

        if (Time >= options.Stop)
        {
            Status = RunStatus.Completed;
            watch.Stop();
        }

        return true;
    }

    /// <summary>Called at the instant of an event, before discrete states change: what belongs to the time up to there can be read only now.</summary>
    internal Action? BeforeEvents { get; set; }

    /// <summary>True when the last step was the short one that leads in after a discontinuity.</summary>
    internal bool IsStepIn => !smooth;

    /// <summary>True when the states of parts did not last beyond that step: a rectifier that still conducts where a switch has taken its
    /// current over. Between two sides of one jump, its point is none that anybody could have seen.</summary>
    internal bool IsPassing { get; private set; }

    /// <summary>Number of pieces that the last step's inner points divide it into: the points between which it is smooth.</summary>
    internal int Knots => isWide ? wide!.Stages : 1;

    /// <summary>The unknowns at an inner point of the last step; 0 is its start, <see cref="Knots"/> its end.</summary>
    internal ReadOnlySpan<double> Knot(int number, out double time)
    {
        if (isWide)
        {
            time = number == wide!.Stages ? Time : PreviousTime + wide.Node(number) * wide.Length;
            return wide.State(number);
        }

        time = number == 0 ? PreviousTime : Time;
        return number == 0 ? stages.Values[0] : State;
    }

    /// <summary>Value of all unknowns at an instant between <see cref="PreviousTime"/> and <see cref="Time"/>.</summary>
    /// <param name="time">Instant in seconds.</param>
    /// <param name="x">Receives the unknowns; length as <see cref="State"/>.</param>
    public void Interpolate(double time, Span<double> x)
    {
        var h = Time - PreviousTime;
        if (h <= 0 || !smooth)
        {
            // A step in after a discontinuity is a straight line.
            var (from, to) = (stages.Values[0], stages.Values[^1]);
            var theta = h > 0 ? (time - PreviousTime) / h : 1;
            for (var k = 0; k < x.Length; k++)
            {
                x[k] = from[k] + theta * (to[k] - from[k]);
            }

            return;
        }

        if (isWide)
        {
            wide!.Interpolate((time - PreviousTime) / h, x);
            return;
        }

        stages.Interpolate((time - PreviousTime) / h, h, x);
    }

    /// <summary>Changes parameters of parts in the middle of the run; charges and fluxes carry over, all else may jump.</summary>
    /// <param name="change">Sets properties of the circuit's devices.</param>
    public void Change(Action change)
    {
        ArgumentNullException.ThrowIfNull(change);
        change();
        system.Restamp();
        newton.Invalidate();
        wide?.Break();
        restart = true;
    }

    /// <summary>Charges and fluxes at <see cref="Time"/> by row; with the discrete states they are all that the run remembers.</summary>
    internal ReadOnlySpan<double> Charges => pending ? stages.EndCharge : stages.StartCharge;

    /// <summary>
    /// Goes on from another instant with other charges and fluxes; discrete states stay as they are. What a search for a periodic
    /// state and a leap over many alike periods are made of.
    /// </summary>
    /// <param name="time">Instant in seconds, before the end of the run.</param>
    /// <param name="charges">Charges and fluxes by row, as <see cref="Charges"/>.</param>
    /// <param name="guess">Where Newton starts for the unknowns, as <see cref="State"/>.</param>
    internal void Jump(double time, ReadOnlySpan<double> charges, ReadOnlySpan<double> guess)
    {
        pending = false;
        if (time < Time)
        {
            // They are in the order of time, and few are later.
            while (events.Count > 0 && events[^1].Time > time)
            {
                events.RemoveAt(events.Count - 1);
            }
        }

        scale.Fade(Math.Exp(-FadeRate * Math.Max(0, time - Time) / options.Stop), LocalAccuracy);
        newton.CurrentScale = scale.LargestCurrent;
        Time = PreviousTime = time;
        charges.CopyTo(stages.StartCharge);
        guess.CopyTo(stages.Values[0]);
        newton.Invalidate();
        wide?.Break();
        (restart, jumped) = (true, true);
        guards.Accept(Time, State);
        if (Status == RunStatus.Completed && time < options.Stop)
        {
            Status = RunStatus.Running;
            watch.Start();
        }
    }

    /// <summary>Begins a record whose balances are to be its own: before it, energy came and went at the jumps of a search.</summary>
    internal void BeginRecord()
    {
        energy.TurnPage();
        counters.WorstKcl = counters.WorstHeat = 0;
    }

    /// <summary>Largest values of late, by unknown, that tolerances are relative to.</summary>
    internal double[] Peaks
    {
        get => scale.Peaks;
        set => scale.Peaks = value;
    }

    /// <summary>Which guards could fire next, by their number; of two instants at the same phase of a period they differ when a
    /// threshold was passed in between.</summary>
    internal bool[] ArmedGuards => guards.Armed;

    /// <summary>Ends the run; the compiled system may then be used again.</summary>
    public void Dispose()
    {
        watch.Stop();
        system.Loads.Limiting = false;
    }

    /// <summary>The third-order method does less work at everyday accuracy, the fourth-order one beyond; see the work-precision
    /// figures in benchmarks/.</summary>
    private static StageMethod DefaultMethod(double accuracy) => accuracy > 2e-4 ? StageMethod.Esdirk3 : StageMethod.Esdirk4;

    private string Begin()
    {
        var l = system.Loads;
        system.ResetDiscrete();
        l.IsStatic = false;
        if (options.UseInitialConditions)
        {
            InitialState.Charge(system, stages.StartCharge);
            l.X.CopyTo(stages.Values[0], 0);
            scale.Update(stages.Values[0], LocalAccuracy, 1);
            FindConsistentStart();
            SettleDiscrete();
            guards.Accept(0, stages.Values[0]);
            return "initial conditions";
        }

        var limits = new RunLimits { WallClock = options.WallClockLimit, Cancellation = options.Cancellation };
        var point = new OperatingPoint(system, new OperatingPointOptions { Limits = limits }, counters, newton);
        system.Hold(true);
        try
        {
            point.Find();
        }
        catch (RunEndedException ended)
        {
            throw ended.ToPublic(options.Cancellation);
        }
        finally
        {
            system.Hold(false);
        }

        var found = point.ToSolution(0);
        found.X.CopyTo(stages.Values[0], 0);
        l.Q.CopyTo(stages.StartCharge, 0);
        scale.Update(stages.Values[0], LocalAccuracy, 1);
        if (system.HasHolds)
        {
            // What held the nodes is gone: charges and fluxes stay, all else follows from them.
            newton.Invalidate();
            FindConsistentStart();
        }

        guards.Accept(0, stages.Values[0]);
        return point.Means;
    }

    /// <summary>Given charges and fluxes only, an Euler step of next to no length tells all voltages and currents: the shorter, the
    /// less has been charged meanwhile.</summary>
    private void FindConsistentStart()
    {
        system.Loads.Fresh = true;
        for (var (h, found) = (1e-9 * options.Stop, false); ; h *= 0.03)
        {
            if (stages.TryEuler(0, h, scale.Weight, out var worst))
            {
                stages.Values[^1].CopyTo(stages.Values[0], 0);
                scale.Update(stages.Values[0], LocalAccuracy, 1);
                newton.CurrentScale = scale.LargestCurrent;
                if (h <= StartShare * options.Stop)
                {
                    return;
                }

                found = true;
            }
            else if (found)
            {
                return;
            }

            if (h < 1e-18 * options.Stop)
            {
                throw Stuck(h, worst, "the initial conditions admit no solution that Newton could find");
            }
        }
    }

    /// <summary>Switches what the initial conditions hold beyond its threshold from the start: such a guard never rises through zero.</summary>
    private void SettleDiscrete()
    {
        const int rounds = 100;
        for (var round = 0; guards.Settle(stages.Values[0]) is { } part; round++)
        {
            if (round > rounds)
            {
                throw new SolverException(
                    $"Transient at t = 0 s: the state of {part} keeps changing under the initial conditions. Give its thresholds some hysteresis, or its control node some capacitance.");
            }

            system.Restamp();
            newton.Invalidate();
            FindConsistentStart();
        }
    }

    /// <summary>Relative accuracy of one step.</summary>
    private double LocalAccuracy => Math.Min(options.Accuracy * LocalShare, LoosestLocal);

    private bool MustStop()
    {
        if (options.Cancellation.IsCancellationRequested)
        {
            Status = RunStatus.Cancelled;
        }
        else if (options.WallClockLimit is { } limit && watch.Elapsed > limit)
        {
            Status = RunStatus.TimedOut;
        }

        return Status != RunStatus.Running;
    }

    /// <summary>Takes the short Euler step that leads into a smooth stretch.</summary>
    private void StepIn()
    {
        // Where states change again and again, time has to pass between them: what chases each other over so short a step is rounding, perhaps.
        var slack = Math.ScaleB(1, SlackOctaves * Math.Clamp(breaksInARow - ManyBreaks, 0, MostSlack));
        var h = Math.Max(Math.Min(slack * Math.Max(EulerShare * step, SmallestStep()), LongestEuler * options.Stop), SmallestStep());
        var (first, longest, noisy) = (h, NoisyEulerShare * step, 0.0);
        for (var attempt = 0; ; attempt++)
        {
            var solved = stages.TryEuler(Time, h, scale.Weight, out var worst);
            if (solved && h < longest && stages.EulerNoise(h, scale.Weight) * LocalAccuracy / NoisyShare is var tooMuch && !(tooMuch <= 1))
            {
                (noisy, h) = (h, Math.Min(h * Math.Clamp(double.IsFinite(tooMuch) ? tooMuch : LongestLeap, ShortestLeap, LongestLeap), longest));
            }
            else if (solved && (noisy > 0 || attempt >= 4 || h <= StepInShare * options.Stop || !energy.Misses(stages, options.Accuracy)))
            {
                break;
            }
            else if (noisy > 0 && longest > 0)
            {
                // Then the noisy one, rather than none; once, for what was solved before need not be solved again.
                (h, longest) = (noisy, 0);
            }
            else if (attempt < MostStepsIn && h > SmallestStep())
            {
                h *= 0.05;
            }
            else if (20 * first < step)
            {
                // So short a step is nothing but rounding, perhaps.
                (h, first) = (20 * first, 20 * first);
            }
            else
            {
                throw Stuck(h, worst, "Newton did not converge right after a discontinuity");
            }

            counters.Rejected++;
        }

        smooth = false;
        restart = false;
        afterBreak = true;
        Accept(h, Time + h, h);
        if (guards.Count > 0 && guards.Crossed(Time, State) >= 0)
        {
            Fire(-1);
            IsPassing = Time < options.Stop;
        }

        guards.Accept(Time, State);
    }

    private void StepOn()
    {
        var corner = Math.Min(corners.Next(Time, out var cornerKey), options.Stop);
        var longest = Math.Min(options.MaxStep, corners.LongestStep(Time));
        if (wide is not null && StepWide(wide, corner, Math.Min(longest, corner - Time)))
        {
            return;
        }

        var (before, stubborn, missed) = (double.PositiveInfinity, 0, double.PositiveInfinity);
        var (missedAt, unbalanced, vain) = (0.0, false, 0);
        for (var failed = false; ; failed = true)
        {
            var h = Math.Min(step, longest);
            var land = Time + h * 1.0001 >= corner;
            if (land)
            {
                h = corner - Time;
            }
            else if (Time + 2 * h > corner)
            {
                // Two equal steps instead of a long and a tiny one.
                h = (corner - Time) / 2;
            }

            if (!stages.TryStep(Time, h, scale.Weight, out var size, out var worst))
            {
                if (missedAt > 0)
                {
                    // Shorter steps have no solution: then the one that misses the balance, rather than none.
                    counters.Rejected++;
                    (step, missedAt, unbalanced) = (missedAt, 0, true);
                    continue;
                }

                Reject(h, 0.25, worst, "Newton did not converge");
                caution = afterBreak && hoped ? 0 : CautiousSteps;
                continue;
            }

            if (!double.IsFinite(size))
            {
                Reject(h, 0.25, worst, "the error estimate is undefined");
                continue;
            }

            if (size > 1 && !IsStubborn(h, size, ref before, ref stubborn) && !IsNoisy(h))
            {
                Reject(h, Math.Clamp(LongestStep(size), 0.1, 0.8), worst, "the error estimate stays too large");
                continue;
            }

            if (!unbalanced && h > BalanceShare * options.Stop && energy.Misses(stages, options.Accuracy) && !IsNoisy(h))
            {
                missedAt = h;
                Reject(h, 0.25, worst, "the power balance is missed");
                continue;
            }

            stages.FindRates(Time + h, h, method.Gamma * h, scale.Weight);
            rated = true;
            if (BendsTooSharply(h, ref missed, ref vain))
            {
                if (IsNoisy(h))
                {
                    LeaveBendsAlone();
                }
                else
                {
                    Reject(h, Math.Clamp(0.9 * Math.Pow(DenseLimit / stages.DenseMiss, 0.25), 0.25, 0.7), worst, "the solution bends too sharply");
                    caution = afterBreak && hoped ? 0 : CautiousSteps;
                    continue;
                }
            }

            var crossing = CrossingSearch.None;
            if (guards.Count > 0)
            {
                var tolerance = Math.Max(EventShare * options.Stop, 4 * (Math.BitIncrement(Time) - Time));
                crossing = crossings.Locate(Time, scale.Weight, tolerance, ref h, out var shortened);
                (rated, land) = (!shortened, land && !shortened);
            }

            if (crossing == CrossingSearch.Failed)
            {
                Reject(h, 0.25, worst, "Newton did not converge on the way to an event");
                continue;
            }

            if (afterBreak && crossing < 0 && !land)
            {
                // What its error estimate would have allowed: remembered as it was, a timid first step would stay one for ever.
                hopes.Remember(h * Math.Clamp(Math.Min(LongestStep(size), LongestByBend(missed)), 1, MostHope));
            }

            afterBreak = false;
            smooth = true;
            patience = isTrial ? 1 : patience;
            isTrial = false;
            Accept(h, land ? corner : Time + h, method.Gamma * h);
            pace.Ordinary(h, well: !failed);
            if (h > PassingShare * options.Stop)
            {
                // Time has passed, even if this one step led from one break to the next.
                breaksInARow = 0;
            }

            if (crossing >= 0)
            {
                Fire(crossing);
                Break(h, crossing);
            }
            else if (land && corner < options.Stop)
            {
                Break(h, guards.Count + cornerKey);
            }
            else
            {
                breaksInARow = 0;
                // Where Newton has just failed, or the cubic missed the stages, the step that does is found by approaching it, not by running
                // into the limit again.
                caution -= caution > 0 ? 1 : 0;
                var most = caution > 0 ? CautiousGrowth : 5;
                var grown = h * Math.Clamp(LongestStep(size), 0.2, most);

                step = Math.Max(grown >= h && grown < 1.2 * h ? Kept(h) : grown, SmallestStep());
            }

            guards.Accept(Time, State);
            return;
        }
    }

    /// <summary>
    /// A step kept as it is saves a factorisation. But an estimate that does not depend on the step, what Newton leaves of a current beside one
    /// that is a million times as large, would keep picoseconds for ever: now and then a longer one is tried.
    /// </summary>
    private double Kept(double h)
    {
        if (++kept < patience)
        {
            return h;
        }

        (kept, isTrial) = (0, true);
        return TrialGrowth * h;
    }

    /// <summary>Step that would use up most of its tolerance, in lengths of the one whose error estimate is given.</summary>
    private double LongestStep(double size) => 0.9 * Math.Pow(size + 1e-10, -1.0 / (method.EstimateOrder + 1));

    /// <summary>The same by what lies between the points, for a first step; where a shorter one did not help, that has no say.</summary>
    /// <param name="missed">What a longer step missed, infinite when none was tried.</param>
    private double LongestByBend(double missed)
    {
        var factor = stages.DenseMiss > 0 ? 0.9 * Math.Pow(DenseLimit / stages.DenseMiss, 0.25) : MostHope;
        return factor >= 1 ? factor : double.IsFinite(missed) ? ShyGrowth : MostHope;
    }

    /// <summary>Takes a step of high order where the solution is smooth enough for it.</summary>
    /// <returns>False when an ordinary step has to be taken.</returns>
    private bool StepWide(WideStepSolver solver, double corner, double room)
    {
        while (pace.Next(step, room) is { } notch)
        {
            if (!solver.HasMap(notch) && !pace.CanPay(solver.MapPrice))
            {
                return false;
            }

            var converged = solver.TryStep(Time, corner, notch, stages.Values[0], scale.Weight, newton.CurrentScale, newton.CurrentTolerance * newton.CurrentScale, followsFromRates, out var size);
            if (converged && pace.IsGood(size))
            {
                if (guards.Count > 0 && CrossesOnTheWay(solver))
                {
                    pace.Rest();
                    return false;
                }

                stages.Adopt(solver, Time);
                if (energy.Misses(solver.AbsorbedEnergy, solver.SourceEnergy, solver.StoredEnergy, options.Accuracy))
                {
                    counters.Rejected++;
                    pace.Rest();
                    return false;
                }

                pace.Accepted(notch, size);
                (isWide, smooth, afterBreak, rated, breaksInARow) = (true, true, false, true, 0);
                Accept(solver.Length, Time + solver.Length, 0);
                guards.Accept(Time, State);
                return true;
            }

            counters.Rejected++;
            if (!pace.Refused(notch, converged ? size : double.PositiveInfinity))
            {
                return false;
            }
        }

        return false;
    }

    /// <summary>True when a guard is crossed at a stage of a wide step, or may be between two of them; ordinary steps then locate it.</summary>
    private bool CrossesOnTheWay(WideStepSolver solver)
    {
        for (var s = 1; s <= solver.Stages; s++)
        {
            solver.State(s).CopyTo(wideState);
            if (guards.Crossed(Time + solver.Node(s) * solver.Length, wideState) >= 0)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>
    /// An estimate that does not fall while the step shrinks and shrinks is no discretisation error: it is rounding, or the
    /// derivative of something that is accurate itself. The step is taken then, and counted.
    /// </summary>
    private bool IsStubborn(double h, double size, ref double before, ref int times)
    {
        times = size > 0.5 * before ? times + 1 : 0;
        before = size;
        if (times < 4 || h > ForcedShare * options.Stop)
        {
            return false;
        }

        counters.Forced++;
        return true;
    }

    /// <summary>True when rounding would make too much of a shorter step: then what is wrong with this one is the lesser evil, and counted.</summary>
    private bool IsNoisy(double h)
    {
        if (h > LongestNoisy * options.Stop)
        {
            return false;
        }

        noise = stages.Noise(h, scale.Weight) * LocalAccuracy / NoisyShare;
        if (noise <= 1)
        {
            return false;
        }

        // A noise that is no number is the largest there is.
        noise = 0;
        counters.Forced++;
        return true;
    }

    /// <summary>
    /// True when the step should be shortened for the sake of what lies between the points. That is worth while as long as the
    /// step is one that shows and shortening helps: a kink comes nearer, noise does not go away.
    /// </summary>
    private bool BendsTooSharply(double h, ref double missed, ref int vain)
    {
        var miss = stages.DenseMiss;
        if (denseRest > 0 && !(miss > FreshBend * missedInVain))
        {
            denseRest--;
            return false;
        }

        if (!(miss > DenseLimit))
        {
            nextRest = double.IsFinite(missed) ? DenseRest : nextRest;
            return false;
        }

        // Where shortening has led to a step that nobody sees, it has been in vain as well: noise, which the next longer step would run into again.
        var shows = h >= DenseShare * options.Stop;
        vain = miss > 0.8 * missed ? vain + 1 : 0;
        if (!shows || vain >= VainBends)
        {
            if (shows || double.IsFinite(missed))
            {
                LeaveBendsAlone();
            }

            return false;
        }

        missed = Math.Min(missed, miss);
        return true;
    }

    /// <summary>Shorter steps do not help, or rounding forbids them: the next ones are longer than such a look would let them be.</summary>
    private void LeaveBendsAlone()
    {
        (denseRest, missedInVain, caution) = (nextRest, stages.DenseMiss, 0);
        nextRest = Math.Min(2 * nextRest, LongestDenseRest);
    }

    private void Reject(double h, double factor, int worst, string why)
    {
        counters.Rejected++;
        if (isTrial)
        {
            // It was the step, after all.
            (isTrial, patience) = (false, Math.Min(2 * Math.Max(patience, Patience), MostPatience));
        }

        // No shorter than rounding allows, where that is known.
        step = h * Math.Max(factor, Math.Min(noise, 0.8));
        noise = 0;

        // Written so that a NaN ends it as well.
        if (!(step >= SmallestStep()))
        {
            throw Stuck(SmallestStep(), worst, why);
        }
    }

    private void Fire(int guard)
    {
        if (smooth)
        {
            // What parts tell of themselves is still what it was up to here.
            BeforeEvents?.Invoke();
        }

        counters.Events += guards.Fire(guard, Time, State, events, onlyOne: guard < 0 && breaksInARow > ManyBreaks);
        system.Restamp();
        newton.Invalidate();
        restart = true;
        rowBegan = breaksInARow == 0 ? Time : rowBegan;
        if (++breaksInARow > 1000)
        {
            throw new SolverException(
                $"Transient at t = {rowBegan:g4} s: {events[^1].Part} changes its state again and again without time passing. Give its thresholds some hysteresis, or its control node some capacitance.");
        }
    }

    /// <summary>Prepares for the stretch after a corner or an event.</summary>
    private void Break(double h, int key)
    {
        restart = true;
        (kept, patience, isTrial) = (0, Patience, false);
        hopes.Begin(key);
        pace.Begin(key);
        var room = Math.Min(corners.Next(Time, out _), options.Stop) - Time;
        hoped = hopes.Present > 0;
        step = Math.Clamp(hoped ? HopeGrowth * hopes.Present : Math.Min(h, 0.05 * room), SmallestStep(), options.Stop);
    }

    private void Accept(double h, double time, double coefficient)
    {
        Time = time;
        pending = true;
        counters.Points++;
        if (isWide)
        {
            counters.WorstKcl = Math.Max(counters.WorstKcl, wide!.LeftOver);
        }
        else if (smooth)
        {
            // A step in is so short that rounding of the charges alone, divided by its length, makes amperes.
            counters.WorstKcl = Math.Max(counters.WorstKcl, stages.Residual(coefficient));
            counters.WorstHeat = Math.Max(counters.WorstHeat, stages.HeatResidual);
        }

        if (!rated)
        {
            stages.FindRates(time, h, coefficient, scale.Weight);
        }

        rated = false;
        if (!jumped)
        {
            // Right after a jump, currents that make the charges fit within no time are no scale for anything.
            scale.Update(State, LocalAccuracy, Math.Exp(-FadeRate * h / options.Stop));
            newton.CurrentScale = scale.LargestCurrent;
        }

        jumped = false;
    }

    /// <summary>Step below which time would not advance in a way that rounding leaves meaningful.</summary>
    private double SmallestStep() => Math.Max(1e-15 * options.Stop, 64 * (Math.BitIncrement(Time) - Time));

    private SolverException Stuck(double h, int worst, string why) =>
        new($"Transient at t = {Time:g6} s with a step of {h:g1} s: {why}; the worst unknown is {(worst > 0 ? system.Describe(worst) : "unknown")}. "
            + "Look there for a jump that nothing limits (add a small resistance or capacitance), or ask for less accuracy.");
}
