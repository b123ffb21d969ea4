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

    /// <summary>The most that it may be up to an accuracy of some 2 %: with steps too long for their estimates to be believed, errors add up faster. Beyond, it is the square of
    /// the accuracy, which for a tenth is the usual share again.</summary>
    private const double LoosestLocal = 5e-4;

    /// <summary>Accuracy of an event's instant, relative to the length of the run.</summary>
    private const double EventShare = 1e-11;

    /// <summary>The peaks that tolerances are relative to fade by this many e-folds over the run, or over the time that is set.</summary>
    private const double FadeRate = 5;

    /// <summary>Current that may be left over at a node, relative to the largest branch current and the accuracy asked.</summary>
    private const double CurrentShare = 0.1;

    /// <summary>Shortest step, relative to the run, that is made shorter for the sake of what lies between the points: nobody sees what happens below.</summary>
    private const double DenseShare = 1e-9;

    /// <summary>Step, relative to the run, below which an estimate that does not fall is no error of the step: above it there may be a
    /// relaxation that is faster still (a capacitor charging at power-up), and a step across it misses its energy.</summary>
    private const double ForcedShare = 1e-10;

    /// <summary>The same where the power balance is missed: there it is a relaxation, however fast.</summary>
    private const double ForcedAcrossShare = 1e-14;

    /// <summary>Growth of a step in that is repeated to get across a relaxation that is over before time can be told, and how often that is done.</summary>
    private const double AcrossGrowth = 20;

    private const int MostAcross = 4;

    /// <summary>Growth of the step after Newton failed or the solution bent too sharply, and for how many steps.</summary>
    private const double CautiousGrowth = 1.25;

    private const int CautiousSteps = 8;

    /// <summary>Step, relative to the run, below which the power balance has no say: charges and fluxes, rounded, divided by so short a
    /// step, make currents of their own where windings are coupled perfectly.</summary>
    private const double BalanceShare = 1e-9;

    /// <summary>What it must not miss at any length, relative to all that was turned over: a run of hours would begin with hundreds of times the energy that a small capacitor takes up.</summary>
    private const double GrossMiss = 1;

    /// <summary>Step, relative to the run, that counts as time passing between two breaks.</summary>
    private const double PassingShare = 1e-9;

    /// <summary>Stages of the wide steps that smooth stretches are taken with.</summary>
    private const int WideStages = 5;

    /// <summary>What a wide step's polynomial may leave out, relative to the accuracy asked: it tells that by its own terms, so that it needs no shorter steps to be believed.</summary>
    private const double WideShare = 0.2;

    /// <summary>The same at accuracies looser than <see cref="LoosestWide"/>, where ordinary steps are held tighter than their share and a wide one's errors are a small part of the whole.</summary>
    private const double LooseWideShare = 0.5;

    private const double LoosestWide = LoosestLocal / LocalShare;

    /// <summary>Length of a step across a fold, relative to the run, by how much the next is longer, and how many are tried in a row.</summary>
    private const double FoldShare = 1e-11;
    private const double FoldGrowth = 20;
    private const int MostFolds = 4;

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
    private readonly FirstSteps hopes;
    private readonly EulerStepIn stepIn;
    private readonly SteadyStep steady = new();
    private readonly Bends bends;
    private readonly NoiseLimit noise;
    private readonly BreakRow breaks;
    private readonly List<CircuitEvent> events = [];
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private readonly string start;
    private readonly WideStepSolver? wide;
    private readonly WidePace pace;
    private readonly bool[] followsFromRates;
    private readonly double[] wideState;
    private bool isWide;
    private double step;
    private bool afterBreak;
    private int folds;
    private bool hoped;
    private int across;
    private bool restart = true;
    private bool smooth;
    private bool pending;
    private bool rated;
    private int caution;
    private bool jumped;

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
        pace = new WidePace(WideStages, (options.Accuracy > LoosestWide ? LooseWideShare : WideShare) * options.Accuracy / LocalAccuracy, wide?.Worth(method.Stages - 1) ?? 0, guards.Count + system.Timed.Length + 1);
        corners = new SourceCorners(system.Timed);
        energy = new EnergyBook(system.EnergySign);
        crossings = new CrossingSearch(stages, guards, system.Size + 1);
        hopes = new FirstSteps(guards.Count + system.Timed.Length + 1);
        noise = new NoiseLimit(stages, scale, options, LocalAccuracy);
        stepIn = new EulerStepIn(system, stages, energy, scale, noise, counters, options);
        bends = new Bends(DenseShare * options.Stop, system.Size + 1);
        breaks = new BreakRow(PassingShare * options.Stop);
        start = new RunStart(system, options, newton, stages, scale, guards, LocalAccuracy).Find(counters);
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

    /// <summary>Number of points of the last step at which the circuit was solved: its start, its stages, its end.</summary>
    internal int SolvedCount => isWide ? wide!.Stages + 1 : smooth ? stages.Values.Length : 2;

    /// <summary>The unknowns at one of these points; they are in no order of time, but the first is the start and the last the end.</summary>
    /// <param name="number">Number of the point.</param>
    /// <param name="time">Receives its instant in seconds.</param>
    internal ReadOnlySpan<double> Solved(int number, out double time)
    {
        if (isWide)
        {
            return Knot(number, out time);
        }

        var last = number == SolvedCount - 1;
        time = last ? Time : PreviousTime + (number == 0 ? 0 : method.Nodes[number] * (Time - PreviousTime));
        return last ? State : stages.Values[number];
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

        scale.Fade(Fading(Math.Max(0, time - Time)), LocalAccuracy);
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

    /// <summary>Relative accuracy of one step.</summary>
    private double LocalAccuracy => Math.Min(options.Accuracy * LocalShare, Math.Max(LoosestLocal, options.Accuracy * options.Accuracy));

    private double Fading(double time) => Math.Exp(-FadeRate * time / (options.Fading ?? options.Stop));

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
        var h = stepIn.Take(Time, step, breaks.Slack, SmallestStep());
        EnterBy(h);
    }

    /// <summary>Goes on where the branch of solutions that the circuit was on has ended. What it did not get across is tried with longer steps: just before a fold the old branch is still there.</summary>
    /// <param name="room">Time to the next corner in seconds.</param>
    /// <returns>False when there is no way on.</returns>
    private bool StepAcrossFold(double room)
    {
        while (folds < MostFolds)
        {
            var h = Math.Min(FoldShare * Math.Pow(FoldGrowth, folds++) * options.Stop, room);
            counters.Rejected++;
            if (h >= SmallestStep() && stages.TryJump(Time, h, scale.Weight))
            {
                (step, caution) = (FoldGrowth * h, 0);
                EnterBy(h);
                return true;
            }
        }

        return false;
    }

    private void EnterBy(double h)
    {
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

        var (before, stubborn, missedAt, unbalanced) = (double.PositiveInfinity, 0, 0.0, false);
        bends.BeginStep();
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

                var shorter = noise.Shorter(0.25);
                if (!(h * shorter >= SmallestStep()) && StepAcrossFold(corner - Time))
                {
                    return;
                }

                Reject(h, shorter, worst, "Newton did not converge");
                caution = afterBreak && hoped ? 0 : CautiousSteps;
                continue;
            }

            if (!double.IsFinite(size))
            {
                Reject(h, 0.25, worst, "the error estimate is undefined");
                continue;
            }

            if (size > 1 && !IsStubborn(h, size, ref before, ref stubborn) && !Forced(noise.Forbids(h, stages.ErrorSizes, 1)))
            {
                var factor = Math.Clamp(LongestStep(size), 0.1, 0.8);
                if (factor * h < SmallestStep() && across < MostAcross)
                {
                    StepAcross(h);
                    return;
                }

                Reject(h, factor, worst, "the error estimate stays too large");
                continue;
            }

            if (!unbalanced && energy.Misses(stages, h > BalanceShare * options.Stop ? options.Accuracy : GrossMiss) && !Forced(noise.Forbids(h)))
            {
                missedAt = h;
                Reject(h, 0.25, worst, "the power balance is missed");
                continue;
            }

            stages.FindRates(Time + h, h, method.Gamma * h, scale.Weight);
            rated = true;
            var bend = bends.Judge(h, stages.DenseMisses);
            if (bend == Bends.Verdict.Shorten)
            {
                if (!Forced(noise.Forbids(h, stages.DenseMisses, Bends.Limit)))
                {
                    Reject(h, bends.Shorter(), worst, "the solution bends too sharply");
                    caution = afterBreak && hoped ? 0 : CautiousSteps;
                    continue;
                }

                bend = bends.LeaveAlone(stages.DenseMisses);
            }

            caution = bend == Bends.Verdict.LeaveAlone ? 0 : caution;
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
                hopes.Remember(h, Math.Min(LongestStep(size), bends.LongestFirst(stages.DenseMiss)));
            }

            (afterBreak, smooth, folds) = (false, true, 0);
            steady.Accepted();
            Accept(h, land ? corner : Time + h, method.Gamma * h);
            pace.Ordinary(h, well: !failed);
            breaks.Pass(h);
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
                breaks.End();
                // Where Newton has just failed, or the cubic missed the stages, the step that does is found by approaching it, not by running
                // into the limit again.
                caution -= caution > 0 ? 1 : 0;
                var most = caution > 0 ? CautiousGrowth : 5;
                var grown = h * Math.Clamp(LongestStep(size), 0.2, most);

                step = Math.Max(grown >= h && grown < 1.2 * h ? steady.Next(h) : grown, SmallestStep());
            }

            guards.Accept(Time, State);
            return;
        }
    }

    /// <summary>
    /// The current of an inductor behind a lead of gigohms settles within femtoseconds, less than time can be told by late in a run: no step is short enough to follow that. An Euler step that is much longer
    /// gets across, and what was remembered of first steps earlier in the run is no hope here.
    /// </summary>
    private void StepAcross(double h)
    {
        counters.Rejected++;
        step = h * Math.Pow(AcrossGrowth, ++across) / EulerStepIn.Share;
        StepIn();
    }

    /// <summary>Step that would use up most of its tolerance, in lengths of the one whose error estimate is given.</summary>
    private double LongestStep(double size) => 0.9 * Math.Pow(size + 1e-10, -1.0 / (method.EstimateOrder + 1));

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
                (isWide, smooth, afterBreak, rated) = (true, true, false, true);
                breaks.End();
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
        if (times < 4 || h > ForcedShare * options.Stop || (h > ForcedAcrossShare * options.Stop && energy.Misses(stages, options.Accuracy)))
        {
            return false;
        }

        counters.Forced++;
        return true;
    }

    /// <summary>Counts a step that is taken although something is wrong with it.</summary>
    private bool Forced(bool isForced)
    {
        counters.Forced += isForced ? 1 : 0;
        return isForced;
    }

    private void Reject(double h, double factor, int worst, string why)
    {
        counters.Rejected++;
        steady.Refused();
        step = h * noise.Shorter(factor);

        // Written so that a NaN ends it as well.
        if (!(step >= SmallestStep()))
        {
            throw StuckRun.At(system, Time, SmallestStep(), worst, why);
        }
    }

    private void Fire(int guard)
    {
        if (smooth)
        {
            // What parts tell of themselves is still what it was up to here.
            BeforeEvents?.Invoke();
        }

        counters.Events += guards.Fire(guard, Time, State, events, onlyOne: guard < 0 && breaks.IsLong);
        system.Restamp();
        newton.Invalidate();
        restart = true;
        breaks.Add(Time);
        if (breaks.IsEndless)
        {
            throw new SolverException(
                $"Transient at t = {breaks.Began:g4} s: {events[^1].Part} changes its state again and again without time passing. Give its thresholds some hysteresis, or its control node some capacitance.");
        }
    }

    /// <summary>Prepares for the stretch after a corner or an event.</summary>
    private void Break(double h, int key)
    {
        restart = true;
        steady.Forget();
        across = 0;
        hopes.Begin(key);
        pace.Begin(key);
        var room = Math.Min(corners.Next(Time, out _), options.Stop) - Time;
        hoped = hopes.Present > 0;
        step = Math.Clamp(hoped ? hopes.Present : Math.Min(h, 0.05 * room), SmallestStep(), options.Stop);
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
            scale.Update(State, LocalAccuracy, Fading(h));
            newton.CurrentScale = scale.LargestCurrent;
        }

        jumped = false;
    }

    /// <summary>Step below which time would not advance in a way that rounding leaves meaningful.</summary>
    private double SmallestStep() => Math.Max(1e-15 * options.Stop, 64 * (Math.BitIncrement(Time) - Time));
}
