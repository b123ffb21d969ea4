using System.Diagnostics;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Finds the direct-current solution. Plain Newton first; where it fails, gmin stepping, then source stepping, then a
/// pseudo-transient, then sources again by the path of solutions, which may bend back; discrete devices are switched until their states agree with the solution.
/// </summary>
public sealed class OperatingPoint
{
    /// <summary>Part of the accuracy that polishing goes for, and iterations that it may take.</summary>
    private const double PolishShare = 1e-6;

    private const int PolishIterations = 8;

    private const double UnitInLastPlace = 2.220446049250313e-16;

    private readonly CircuitSystem system;
    private readonly OperatingPointOptions options;
    private readonly SolverCounters counters;
    private readonly NewtonSolver newton;
    private readonly double[] excitation;
    private readonly double[] weight;
    private readonly double[] target;

    /// <summary>The circuit without power: all voltages and currents are zero, temperatures are not.</summary>
    private readonly double[] rest;
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private string means = "newton";
    private int worst;
    private int singular;
    private int undefined;

    internal OperatingPoint(CircuitSystem system, OperatingPointOptions options, SolverCounters counters, NewtonSolver newton)
    {
        (this.system, this.options, this.counters, this.newton) = (system, options, counters, newton);
        excitation = new double[system.Size + 1];
        weight = new double[system.Size + 1];
        target = new double[system.Size + 1];
        rest = new double[system.Size + 1];
        var initial = new InitialValues();
        foreach (var device in system.Circuit.Devices.OfType<IInitial>())
        {
            device.SetInitial(initial);
        }

        foreach (var (index, value) in initial.Values)
        {
            rest[index] = index > 0 && system.Unknowns[index - 1].Kind == UnknownKind.Temperature ? value : 0;
        }
    }

    /// <summary>Means that found the last solution, in words.</summary>
    internal string Means => means;

    /// <summary>Solves the circuit at direct current, from nothing.</summary>
    /// <param name="system">The compiled circuit; discrete devices are reset first.</param>
    /// <param name="options">Settings; defaults when null.</param>
    /// <exception cref="CircuitException">A node floats or a loop is over-determined.</exception>
    /// <exception cref="SolverException">No solution was found, or not within the time limit; the message names the worst unknown.</exception>
    /// <exception cref="OperationCanceledException">The search was cancelled.</exception>
    public static Solution Solve(CircuitSystem system, OperatingPointOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(system);
        options ??= new OperatingPointOptions();
        var watch = Stopwatch.StartNew();
        StructureCheck.ThrowIfUnsound(system.Circuit, forDirectCurrent: true);
        var counters = new SolverCounters();
        var point = new OperatingPoint(system, options, counters, new NewtonSolver(system, counters));
        system.ResetDiscrete();
        system.Loads.IsStatic = true;
        try
        {
            point.Find();
        }
        catch (RunEndedException ended)
        {
            throw ended.ToPublic(options.Limits.Cancellation);
        }
        finally
        {
            system.Loads.IsStatic = false;
        }

        return point.ToSolution(watch.Elapsed.TotalSeconds);
    }

    /// <summary>Solves from the iterate in the system's loads; leaves the solution there.</summary>
    /// <exception cref="RunEndedException">A limit ended the search.</exception>
    internal void Find(bool keepIterate = false)
    {
        system.Loads.IsAtRest = true;
        try
        {
            FindStates(keepIterate);
        }
        finally
        {
            system.Loads.IsAtRest = false;
        }
    }

    private void FindStates(bool keepIterate)
    {
        var l = system.Loads;
        if (!keepIterate)
        {
            rest.CopyTo(l.X, 0);
            foreach (var (node, volts) in options.Guess ?? new Dictionary<string, double>())
            {
                l.X[system.NodeIndex(node)] = volts;
            }
        }

        l.SourceScale = 1;
        undefined = 0;
        var restless = SettleStates(oneByOne: false);
        if (restless.Count == 0)
        {
            return;
        }

        // Parts that are switched all at once may chase each other where one of them would have held the others: in time, the one that is reached first goes first.
        Restart(keepIterate);
        restless = SettleStates(oneByOne: true);
        if (restless.Count > 0 && !RestsElsewhere(restless, keepIterate))
        {
            throw new SolverException(
                $"Operating point: the states of {string.Join(", ", restless)} keep changing; the circuit has no stable state at direct current. Start the run from initial conditions (UIC) instead.");
        }
    }

    private void Restart(bool keepIterate)
    {
        system.ResetDiscrete();
        if (!keepIterate)
        {
            rest.CopyTo(system.Loads.X, 0);
        }
    }

    /// <summary>
    /// Tries the states that only time leads to, as the stop after an overload that lasted: before a circuit is said to have no stable state,
    /// these have to be no rest either.
    /// </summary>
    private bool RestsElsewhere(List<string> restless, bool keepIterate)
    {
        system.ResetDiscrete();
        foreach (var device in system.Discrete.Where(d => restless.Contains(((Device)d).Name)))
        {
            foreach (var memory in device.RestMemories)
            {
                Restart(keepIterate);
                device.Memory = memory;
                system.Restamp();
                newton.Invalidate();
                try
                {
                    if (SettleStates(oneByOne: true).Count == 0)
                    {
                        means += $", {((Device)device).Name} {device.StateName}, to which only time leads";
                        return true;
                    }
                }
                catch (SolverException)
                {
                    // Nothing solves the circuit on the way from here: it does not rest here.
                }
            }
        }

        return false;
    }

    /// <summary>Solves and switches in turn until no part wants to change any more.</summary>
    /// <param name="oneByOne">True to switch at a time only the part whose threshold is met first on the way from one solution to the next.</param>
    /// <returns>The parts that keep changing; none when a stable state was found.</returns>
    private List<string> SettleStates(bool oneByOne)
    {
        const int most = 200;
        var seen = new Dictionary<string, int>();
        var rounds = new List<List<Switching>>();
        var before = new double[system.Discrete.Sum(d => d.GuardCount)];
        EvaluateGuards(before);
        while (true)
        {
            FindContinuous();
            Polish();
            if (system.Discrete.Length == 0)
            {
                return [];
            }

            var changed = oneByOne ? SwitchFirst(before) : SwitchDiscrete();
            if (changed.Count == 0)
            {
                return [];
            }

            // A set of states that comes back is a loop without a stable answer at direct current.
            rounds.Add(changed);
            var states = string.Join(' ', system.Discrete.Select(d => d.RestState));
            if (!seen.TryAdd(states, rounds.Count))
            {
                return Deciding(rounds.Skip(seen[states]));
            }

            if (rounds.Count > most)
            {
                return Deciding(rounds);
            }
        }
    }

    /// <summary>The parts that keep a loop of states going: those that remember. A rectifier follows its voltage and is named only where nothing else goes round.</summary>
    private static List<string> Deciding(IEnumerable<List<Switching>> rounds)
    {
        var all = rounds.SelectMany(c => c).Distinct().ToList();
        var remembering = all.Where(c => c.Remembers).Select(c => c.Part).Distinct().ToList();
        return remembering.Count > 0 ? remembering : [.. all.Select(c => c.Part).Distinct()];
    }

    internal Solution ToSolution(double seconds)
    {
        var l = system.Loads;
        system.Excite(options.Time, excitation);
        l.Limiting = false;
        system.Evaluate(excitation);
        var evidence = new SolverEvidence
        {
            Points = 1,
            NewtonIterations = counters.Iterations,
            Factorizations = counters.Factorizations,
            WorstKclResidual = system.WorstNodeResidual(l.F),
            WorstHeatResidual = system.WorstNodeResidual(l.F, ofHeat: true),
            PowerBalance = RelativePower(),
            Start = means,
            WallSeconds = seconds,
        };
        return new Solution(system, [.. l.X], evidence);
    }

    private double RelativePower()
    {
        var (x, f) = (system.Loads.X, system.Loads.F);
        var (sum, turnover, noise) = (0.0, 0.0, 0.0);
        for (var i = 1; i < x.Length; i++)
        {
            sum += system.EnergySign[i] * x[i] * f[i];
            turnover += Math.Abs(system.EnergySign[i] * x[i] * excitation[i]);
        }

        // A milliohm at some volts rounds to picoamperes, which may be all that flows in a circuit of gigohms.
        var g = system.Loads.G;
        var rows = system.Rows;
        var columns = system.Columns;
        for (var s = 1; s < rows.Length; s++)
        {
            noise += UnitInLastPlace * Math.Abs(system.EnergySign[rows[s]] * x[rows[s]] * g[s] * x[columns[s]]);
        }

        return turnover > 0 ? Math.Max(0, Math.Abs(sum) - noise) / turnover : 0;
    }

    private void FindContinuous()
    {
        var start = (double[])system.Loads.X.Clone();
        means = "newton";
        system.Excite(options.Time, excitation);
        if (Newton())
        {
            return;
        }

        start.CopyTo(system.Loads.X, 0);
        means = "gmin stepping";
        if (StepShunt())
        {
            return;
        }

        rest.CopyTo(system.Loads.X, 0);
        means = "source stepping";
        if (StepSources())
        {
            return;
        }

        rest.CopyTo(system.Loads.X, 0);
        means = "pseudo-transient";
        if (StepPseudoTime())
        {
            return;
        }

        rest.CopyTo(system.Loads.X, 0);
        means = "source stepping round a bend";

        // Where that fails as well, those before have the more telling unknown: they came to full sources.
        var told = (worst, singular, undefined);
        if (FollowSources())
        {
            return;
        }

        (worst, singular, undefined) = told;
        throw new SolverException(Describe());
    }

    /// <summary>Steps the sources by the length of the path of solutions, which may bend back.</summary>
    private bool FollowSources()
    {
        var l = system.Loads;
        try
        {
            l.SourceScale = 0;
            system.Excite(options.Time, excitation);
            if (!Newton())
            {
                return false;
            }

            return new SourceArc(system, counters).Follow(
                options.Time,
                () =>
                {
                    system.Excite(options.Time, excitation);
                    return Newton();
                },
                ThrowIfEnded);
        }
        finally
        {
            l.SourceScale = 1;
            system.Excite(options.Time, excitation);
            newton.Invalidate();
        }
    }

    /// <summary>
    /// Newton's update tells of voltages, not of currents: beside a milliohm, a part in 1e9 of a volt is a microampere, more than a
    /// circuit of megohms has. A few more iterations bring the currents down to what rounding leaves.
    /// </summary>
    private void Polish()
    {
        if (system.IsLinear)
        {
            return;
        }

        var x = system.Loads.X;
        var found = (double[])x.Clone();
        if (!newton.Solve(false, 1, null, excitation, weight, PolishShare, PolishIterations, exact: true) && !Array.TrueForAll(x, double.IsFinite))
        {
            found.CopyTo(x, 0);
        }
    }

    private void ThrowIfEnded()
    {
        if (options.Limits.Check(watch) is var status and not RunStatus.Running)
        {
            var limit = options.Limits.WallClock is { } time ? $"the time limit of {RunLimits.Show(time)} ran out" : "cancelled";
            throw new RunEndedException(
                status,
                $"Operating point: {limit} during {means}, after {counters.Iterations} Newton iterations; {WorstInWords()}. Allow more time, or start the run from initial conditions (UIC).");
        }
    }

    private string WorstInWords() => worst > 0 ? $"the worst unknown is {system.Describe(worst)}" : "no unknown stands out";

    private bool Newton()
    {
        ThrowIfEnded();

        // Limiting starts at the iterate: it is a guess, or the last solution, or that solution again after a step too far.
        var l = system.Loads;
        l.Fresh = true;
        newton.Invalidate();
        for (var i = 1; i < weight.Length; i++)
        {
            // A first solve from zero would ask for the accuracy of nothing, so the floor stands in until values are known.
            weight[i] = 1 / (options.Accuracy * Math.Max(Math.Abs(l.X[i]), ErrorScale.Floor(system.Unknowns[i - 1].Kind)));
        }

        for (var i = 1; i < target.Length; i++)
        {
            // The shunts drain nodes towards zero volts, but not heat towards zero kelvin.
            target[i] = newton.ShuntSign(i) * newton.Shunt * rest[i];
        }

        var done = newton.Solve(false, 1, target, excitation, weight, 1, options.IterationLimit);
        worst = newton.WorstUnknown;
        singular = newton.SingularUnknown;
        if (!done && undefined == 0)
        {
            undefined = Math.Max(0, Array.FindIndex(l.F, 1, f => !double.IsFinite(f)));
        }

        return done;
    }

    private bool StepShunt()
    {
        var good = (double[])system.Loads.X.Clone();
        try
        {
            var (exponent, reached, step) = (-2.0, -2.0, 1.0);
            var first = true;
            while (true)
            {
                newton.Shunt = Math.Pow(10, exponent);
                if (Newton())
                {
                    first = false;
                    system.Loads.X.CopyTo(good, 0);
                    if (exponent <= -12)
                    {
                        break;
                    }

                    step = Math.Min(step * 1.5, 2);
                    reached = exponent;
                    exponent = Math.Max(-12, reached - step);
                    continue;
                }

                good.CopyTo(system.Loads.X, 0);
                if (first || step < 0.02)
                {
                    return false;
                }

                step /= 4;
                exponent = Math.Max(-12, reached - step);
            }
        }
        finally
        {
            newton.Shunt = 0;
            newton.Invalidate();
        }

        return Newton();
    }

    private bool StepSources()
    {
        var l = system.Loads;
        var good = (double[])l.X.Clone();
        try
        {
            var (scale, reached, step) = (0.0, 0.0, 0.05);
            var first = true;
            while (true)
            {
                l.SourceScale = scale;
                system.Excite(options.Time, excitation);
                if (Newton())
                {
                    if (scale >= 1)
                    {
                        return true;
                    }

                    first = false;
                    l.X.CopyTo(good, 0);
                    step = Math.Min(step * 2, 0.25);
                    reached = scale;
                    scale = Math.Min(1, reached + step);
                    continue;
                }

                good.CopyTo(l.X, 0);
                if (first || step < 1e-7)
                {
                    return false;
                }

                step /= 4;
                scale = Math.Min(1, reached + step);
            }
        }
        finally
        {
            l.SourceScale = 1;
            system.Excite(options.Time, excitation);
            newton.Invalidate();
        }
    }

    /// <summary>Follows the circuit in a made-up time: every node gets a capacitance, which Euler steps of growing length
    /// carry to rest. The capacitance enters as a shunt towards the last point.</summary>
    private bool StepPseudoTime()
    {
        var l = system.Loads;
        var n = system.Size;
        var last = (double[])l.X.Clone();
        try
        {
            var conductance = 1e3;
            for (var step = 0; step < 5000; step++)
            {
                ThrowIfEnded();
                newton.Shunt = conductance;
                for (var i = 1; i <= n; i++)
                {
                    target[i] = newton.ShuntSign(i) * conductance * last[i];
                }

                l.Fresh = true;
                newton.Invalidate();
                SetWeights(1e-6);
                if (newton.Solve(false, 1, target, excitation, weight, 1, 50))
                {
                    l.X.CopyTo(last, 0);
                    conductance /= 2;
                    if (conductance < 1e-12)
                    {
                        newton.Shunt = 0;
                        return Newton();
                    }
                }
                else
                {
                    last.CopyTo(l.X, 0);
                    conductance *= 8;
                    if (conductance > 1e30)
                    {
                        return false;
                    }
                }
            }

            return false;
        }
        finally
        {
            newton.Shunt = 0;
            newton.Invalidate();
        }
    }

    private void SetWeights(double accuracy)
    {
        var x = system.Loads.X;
        for (var i = 1; i < weight.Length; i++)
        {
            weight[i] = 1 / (accuracy * (Math.Abs(x[i]) + ErrorScale.Floor(system.Unknowns[i - 1].Kind)));
        }
    }

    private List<Switching> SwitchDiscrete()
    {
        var changed = new List<Switching>();
        Span<double> values = stackalloc double[16];
        foreach (var discrete in system.Discrete)
        {
            var guards = discrete.GuardCount <= values.Length ? values[..discrete.GuardCount] : new double[discrete.GuardCount];
            discrete.Guards(options.Time, system.Loads.X, guards);
            for (var g = 0; g < guards.Length; g++)
            {
                if (guards[g] > 0)
                {
                    changed.Add(Switch(discrete, g, guards));
                    break;
                }
            }
        }

        if (changed.Count > 0)
        {
            system.Restamp();
            newton.Invalidate();
        }

        return changed;
    }

    /// <summary>Changes the state of a part. One with a single threshold, the same in both directions, has no memory: its state is a function of the unknowns.</summary>
    /// <param name="discrete">The part.</param>
    /// <param name="guard">The guard that is met.</param>
    /// <param name="values">Its guards before; receives those after.</param>
    private Switching Switch(IDiscrete discrete, int guard, Span<double> values)
    {
        var before = values[guard];
        discrete.Cross(guard, options.Time, system.Loads.X);
        discrete.Guards(options.Time, system.Loads.X, values);
        return new Switching(((Device)discrete).Name, Remembers: values.Length > 1 || values[guard] != -before);
    }

    private void EvaluateGuards(double[] values)
    {
        var at = 0;
        foreach (var discrete in system.Discrete)
        {
            discrete.Guards(options.Time, system.Loads.X, values.AsSpan(at, discrete.GuardCount));
            at += discrete.GuardCount;
        }
    }

    /// <summary>Switches the one part whose guard rises through zero first on the straight way from the last solution to this one.</summary>
    /// <param name="before">Values of all guards at the last solution; receives those at this one, after the change.</param>
    private List<Switching> SwitchFirst(double[] before)
    {
        var now = new double[before.Length];
        EvaluateGuards(now);
        var (first, guard, start, earliest) = (-1, -1, 0, double.PositiveInfinity);
        for (var (d, at) = (0, 0); d < system.Discrete.Length; at += system.Discrete[d].GuardCount, d++)
        {
            for (var g = 0; g < system.Discrete[d].GuardCount; g++)
            {
                var (from, to) = (before[at + g], now[at + g]);
                var share = from < 0 ? from / (from - to) : 0;
                if (to > 0 && share < earliest)
                {
                    (first, guard, start, earliest) = (d, g, at, share);
                }
            }
        }

        if (first < 0)
        {
            return [];
        }

        var switched = Switch(system.Discrete[first], guard, now.AsSpan(start, system.Discrete[first].GuardCount));
        system.Restamp();
        newton.Invalidate();
        EvaluateGuards(before);
        return [switched];
    }

    /// <summary>A change of state on the way to the operating point.</summary>
    /// <param name="Part">Name of the part.</param>
    /// <param name="Remembers">False when its state follows from the unknowns alone.</param>
    private readonly record struct Switching(string Part, bool Remembers);

    private string Describe() =>
        undefined != 0
            ? $"Operating point: on the way to a solution the equation of {system.Describe(undefined)} became infinite or undefined, as a constant-power load does at 0 V; check the part values there, or start the run from initial conditions (UIC)."
            : singular != 0
            ? $"Operating point: the equations are singular at {system.Describe(singular)}; {Remedy(system.Unknowns[singular - 1])}."
            : $"Operating point: Newton, gmin stepping, source stepping and pseudo-transient all failed; the worst unknown is {system.Describe(worst)}. Check the part values there, or start the run from initial conditions (UIC).";

    private static string Remedy(Unknown unknown) => unknown.Kind == UnknownKind.Current
        ? "give that branch some resistance (1 mohm, say)"
        : "what conducts there adds up to nothing: give the node another conducting path to the ground, or look for a controlled source of the wrong sign";
}
