using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>One computation: a condition, with the swept value set or not.</summary>
/// <param name="Scenario">The scenario.</param>
/// <param name="Condition">The condition, with the swept severity if there is one.</param>
/// <param name="Swept">The swept value; null when there is none.</param>
/// <param name="Name">Name for progress and messages.</param>
/// <param name="IsSwept">True for a point of the sweep, whose netlist nobody asks for.</param>
internal sealed record ConditionJob(Scenario Scenario, ConditionSpec Condition, ValueSetting? Swept, string Name, bool IsSwept)
{
    /// <summary>Print steps that a netlist's .tran card asks for; the printing interval has no say in the accuracy.</summary>
    private const int PrintSteps = 1000;

    /// <summary>Samples that a record is refined to where the solver takes longer steps: finer than any screen or figure shows.</summary>
    private const int FinestSteps = 20_000;

    public ConditionOutcome Run(RunOptions options)
    {
        options.Cancellation.ThrowIfCancellationRequested();
        var board = BoardOf.Condition(Scenario.Block, Scenario.Values, Condition, Swept);
        var set = Scenario.Observations.Select(o => Observed.Connect(board, o, Scenario.Run.Kind)).ToList();
        return Scenario.Run.Kind == RunKind.OperatingPoint ? AtRest(board, set, options) : OverTime(board, set, options);
    }

    private ConditionOutcome AtRest(Board board, List<Observed> set, RunOptions options)
    {
        var netlist = Netlist(board, new OperatingPointCard());
        var limits = new RunLimits { WallClock = options.TimeLimit, Cancellation = options.Cancellation };
        var solution = OperatingPoint.Solve(new CircuitSystem(board.Circuit), new OperatingPointOptions { Limits = limits });
        return new ConditionOutcome(Scenario, Condition, board, netlist, solution.Evidence, [])
        {
            Observations = [.. set.Select(o => o.Take(solution))],
        };
    }

    private ConditionOutcome OverTime(Board board, List<Observed> set, RunOptions options)
    {
        var run = Scenario.Run;
        var stop = run.Stop ?? board.SuggestedStop
            ?? throw new CircuitException($"{board.Title} suggests no length of a run, and the scenario gives none; give it a stop.");
        var fromRest = run.Start is { } start ? start == RunStart.SwitchOn : board.StartsAtRest;
        var netlist = Netlist(board, new TransientCard((stop - run.RecordFrom) / PrintSteps, stop, run.RecordFrom, null, fromRest));
        var result = Transient.Run(
            new CircuitSystem(board.Circuit),
            new TransientOptions
            {
                Stop = stop,
                Start = run.RecordFrom,
                Accuracy = run.Accuracy,
                Leaps = run.Leaps,
                Resolution = (stop - run.RecordFrom) / FinestSteps,
                UseInitialConditions = fromRest,
                WallClockLimit = options.TimeLimit,
                Cancellation = options.Cancellation,
            },
            [.. set.Select(o => o.Probe)]);
        options.Cancellation.ThrowIfCancellationRequested();
        var place = result.Times.Length > 0 ? $"at t = {Quantity.FormatShort(result.Times[^1], Unit.Second)} of {Quantity.FormatShort(stop, Unit.Second)}" : $"before the record begins, at t = {Quantity.FormatShort(run.RecordFrom, Unit.Second)}";
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
            Observations = [.. set.Select((o, i) => o.Take(result.Times, result.Values(i)))],
        };
    }

    /// <summary>The circuit with its instruments; taken before the run, so that no state of a part gets in.</summary>
    private string Netlist(Board board, AnalysisCard card)
    {
        if (IsSwept)
        {
            return "";
        }

        board.Circuit.Title = $"{Scenario.Title}: {Condition.Label}".ReplaceLineEndings(" ");
        return NetlistWriter.Write(board.Circuit, [card]);
    }
}
