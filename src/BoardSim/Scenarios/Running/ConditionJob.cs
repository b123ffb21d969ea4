using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using BoardSim.Faults;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>One computation: a condition, with the swept value set or not.</summary>
/// <param name="Scenario">The scenario.</param>
/// <param name="Condition">The condition, with the swept severity if there is one.</param>
/// <param name="Own">Values of this case alone, which go before all others.</param>
/// <param name="Name">Name for progress and messages.</param>
/// <param name="Needed">Names of the observations that are looked at afterwards; null for a condition of its own, of which all is kept, the
/// netlist as well. All instruments load the circuit either way.</param>
internal sealed record ConditionJob(Scenario Scenario, ConditionSpec Condition, IReadOnlyList<ValueSetting> Own, string Name, IReadOnlySet<string>? Needed)
{
    /// <summary>True when the values of this case are a board's deviations from the design, and not another design.</summary>
    public bool Deviates { get; init; }

    /// <summary>Print steps that a netlist's .tran card asks for; the printing interval has no say in the accuracy.</summary>
    private const int PrintSteps = 1000;

    /// <summary>Samples that a record is refined to where the solver takes longer steps: finer than any screen or figure shows.</summary>
    private const int FinestSteps = 20_000;

    /// <summary>Computes the condition.</summary>
    /// <param name="options">How to run it.</param>
    /// <param name="compile">Compiles its circuit.</param>
    public ConditionOutcome Run(RunOptions options, Func<Circuit, CircuitSystem> compile)
    {
        options.Cancellation.ThrowIfCancellationRequested();
        var board = BoardOf.Condition(Scenario.NewBlock, Scenario.Values, Condition, Own, Deviates);
        if (Scenario.Run.IsPowerOff)
        {
            PartEdits.Unplug(board, BoardOf.Block(Scenario.NewBlock, Scenario.Values, Condition, Own).SupplyParts);
        }

        if (Scenario.Run.Kind == RunKind.FrequencyResponse)
        {
            return OverFrequency(board, options, compile);
        }

        var set = Scenario.Observations.Select(o => Observed.Connect(board, o, Scenario.Run.Kind)).ToList();
        return Scenario.Run.Kind == RunKind.OperatingPoint ? AtRest(board, set, options, compile) : OverTime(board, set, options, compile);
    }

    private ConditionOutcome AtRest(Board board, List<Observed> set, RunOptions options, Func<Circuit, CircuitSystem> compile)
    {
        var netlist = Netlist(board, new OperatingPointCard());
        var limits = new RunLimits { WallClock = options.TimeLimit, Cancellation = options.Cancellation };
        var solution = OperatingPoint.Solve(compile(board.Circuit), new OperatingPointOptions { Limits = limits });
        return new ConditionOutcome(Scenario, Condition, board, netlist, solution.Evidence, [])
        {
            Observations = [.. set.Where(IsNeeded).Select(o => o.TakeAlone(board.Circuit, limits) ?? o.Take(solution))],
        };
    }

    private ConditionOutcome OverFrequency(Board board, RunOptions options, Func<Circuit, CircuitSystem> compile)
    {
        var run = Scenario.Run;
        var set = Scenario.Observations.Select(o => Observed.OfResponse(board, o)).Where(IsNeeded).ToList();
        var card = new AcCard(FrequencySpacing.Decade, run.PointsPerDecade, run.FromFrequency, run.ToFrequency);
        var netlist = Netlist(board, card);
        if (!board.Circuit.Devices.OfType<ISmallSignal>().Any(s => s.IsActive))
        {
            throw new CircuitException($"{board.Title} has no small-signal source that is on, so nothing would answer; give one of its values for a small signal (such as loop.signal, load.signal or noise.kind).");
        }

        var result = AcAnalysis.Run(
            compile(board.Circuit),
            card.Frequencies(),
            [.. set.SelectMany(o => o.Per is null ? [o.Probe] : new[] { o.Probe, o.Per })],
            new RunLimits { WallClock = options.TimeLimit, Cancellation = options.Cancellation });
        options.Cancellation.ThrowIfCancellationRequested();
        if (result.Status != RunStatus.Completed)
        {
            throw new SolverException($"the response ended ({result.Status}) after {result.Frequencies.Length} frequencies; allow more time, or ask for fewer points per decade.");
        }

        var next = 0;
        return new ConditionOutcome(Scenario, Condition, board, netlist, result.Evidence, [])
        {
            Observations = [.. set.Select(o => o.Take(result.Frequencies, result.Values(next++), o.Per is null ? null : result.Values(next++)))],
        };
    }

    private ConditionOutcome OverTime(Board board, List<Observed> set, RunOptions options, Func<Circuit, CircuitSystem> compile)
    {
        var run = Scenario.Run;
        if (run.Start == RunStart.Periodic)
        {
            return Periodic(board, set, options, compile);
        }

        var stop = run.Stop ?? board.SuggestedStop
            ?? throw new CircuitException($"{board.Title} suggests no length of a run, and the scenario gives none; give it a stop.");
        var fromRest = run.Start is { } start ? start == RunStart.SwitchOn : board.StartsAtRest;
        var netlist = Netlist(board, new TransientCard((stop - run.RecordFrom) / PrintSteps, stop, run.RecordFrom, null, fromRest));
        var system = compile(board.Circuit);
        var result = Transient.Run(
            system,
            new TransientOptions
            {
                Stop = stop,
                Start = run.RecordFrom,
                Accuracy = run.Accuracy,
                Leaps = run.Leaps ?? system.HasClock,
                Resolution = (stop - run.RecordFrom) / FinestSteps,
                UseInitialConditions = fromRest,
                WallClockLimit = options.TimeLimit,
                Cancellation = options.Cancellation,
            },
            [.. set.Select(o => o.Probe)]);
        return Outcome(board, set, netlist, result, stop, options);
    }

    private ConditionOutcome Periodic(Board board, List<Observed> set, RunOptions options, Func<Circuit, CircuitSystem> compile)
    {
        var length = PeriodicLength.Of(Scenario.Run, board, out var problem)
            ?? throw new CircuitException($"{board.Title} has no periodic state under these values: {problem}");

        // A netlist knows no search: whoever runs it elsewhere has to let it settle.
        var settled = board.SettledFrom ?? 0;
        var netlist = Netlist(board, new TransientCard(length.Seconds / PrintSteps, settled + length.Seconds, settled, null, board.StartsAtRest));
        var found = PeriodicSteadyState.Run(
            compile(board.Circuit),
            new PeriodicOptions
            {
                Period = length.Period,
                Periods = length.Periods,
                Accuracy = Scenario.Run.Accuracy,
                Resolution = length.Seconds / FinestSteps,
                UseInitialConditions = board.StartsAtRest,
                WallClockLimit = options.TimeLimit,
                Cancellation = options.Cancellation,
            },
            [.. set.Select(o => o.Probe)]);
        return Outcome(board, set, netlist, found.Waveforms, length.Seconds, options, found.Evidence);
    }

    private ConditionOutcome Outcome(Board board, List<Observed> set, string netlist, TransientResult result, double stop, RunOptions options, PeriodicEvidence? periodic = null)
    {
        options.Cancellation.ThrowIfCancellationRequested();
        var place = result.Times.Length > 0 ? $"at t = {Quantity.FormatShort(result.Times[^1], Unit.Second)} of {Quantity.FormatShort(stop, Unit.Second)}" : $"before the record begins, at t = {Quantity.FormatShort(Scenario.Run.RecordFrom, Unit.Second)}";
        if (result.Status == RunStatus.TimedOut)
        {
            throw new SolverException($"the time limit of {Quantity.FormatShort(options.TimeLimit!.Value.TotalSeconds, Unit.Second)} ran out {place}; allow more time, stop the run earlier, or ask for less accuracy.");
        }

        if (result.Status == RunStatus.RecordFull)
        {
            throw new SolverException($"the record is full {place}; observe less, record from a later time on, stop the run earlier, or ask for less accuracy.");
        }

        return new ConditionOutcome(Scenario, Condition, board, netlist, result.Evidence, result.Events)
        {
            Observations = [.. set.Select((o, i) => (Observed: o, Probe: i)).Where(o => IsNeeded(o.Observed)).Select(o => o.Observed.Take(result.Times, result.Values(o.Probe)))],
            Periodic = periodic,
        };
    }

    private bool IsNeeded(Observed observed) => Needed is null || Needed.Contains(observed.Signal.Name);

    /// <summary>The circuit with its instruments; taken before the run, so that no state of a part gets in.</summary>
    private string Netlist(Board board, AnalysisCard card)
    {
        if (Needed is not null)
        {
            return "";
        }

        board.Circuit.Title = $"{Scenario.Title}: {Condition.Label}".ReplaceLineEndings(" ");
        return NetlistWriter.Write(board.Circuit, [card]);
    }
}
