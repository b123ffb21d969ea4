using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>What one computation gave; readings and metrics are taken when they are asked for.</summary>
internal sealed class ConditionOutcome(
    Scenario scenario, ConditionSpec condition, Board board, string netlist, SolverEvidence evidence, IReadOnlyList<CircuitEvent> events)
{
    public Board Board => board;

    public SolverEvidence Evidence => evidence;

    public PeriodicEvidence? Periodic { get; init; }

    public required IReadOnlyList<Observation> Observations { get; init; }

    public IReadOnlyList<SignalInfo> Signals => [.. Observations.Select(o => o.Signal)];

    public ConditionResult ToResult() => new()
    {
        Name = condition.Name,
        Label = condition.Label,
        IsHealthy = condition.IsHealthy,
        Faults = Faults(),
        Waveforms = [.. Observations.Select(o => o.ToTrace())],
        Readings = [.. Observations.Where(o => o.Signal.IsReading).Select(Read)],
        Metrics = [.. scenario.Metrics.Select(Metric)],
        Evidence = evidence,
        Periodic = Periodic,
        Events = events,
        NetlistText = netlist,
        LineFrequency = board.LineFrequency,
        SwitchingFrequency = board.SwitchingFrequency,
        Start = Observations.Min(o => o.Start),
        Stop = Observations.Max(o => o.Stop),
    };

    /// <summary>Value of a metric or reading by name; NaN when it has none.</summary>
    public double Number(string name)
    {
        var value = scenario.Metrics.FirstOrDefault(m => m.Name == name) is { } spec
            ? Metric(spec).Value
            : Read(Observations.First(o => o.Signal.Name == name)).Value;
        return double.IsFinite(value) ? value : double.NaN;
    }

    private List<string> Faults()
    {
        var block = BoardOf.Block(scenario.NewBlock, scenario.Values, condition);
        return [.. condition.Faults.Select(setting =>
        {
            var fault = block.Fault(setting.Fault);
            return fault.Severity is { } severity ? $"{fault.Title}, {severity.Show(setting.Severity ?? severity.Default)}" : fault.Title;
        })];
    }

    private Reading Read(Observation observation) => observation.Read(Cut(observation, observation.Spec.Window));

    private MetricValue Metric(MetricSpec spec)
    {
        var metric = Metrics.Get(spec.Take);
        var observation = Observations.First(o => o.Signal.Name == spec.Of);
        var wave = Cut(observation, spec.Window);
        var second = spec.And is null ? null : Cut(Observations.First(o => o.Signal.Name == spec.And), spec.Window);
        var result = wave is null
            ? MetricResult.None($"{observation.Signal.Label} shows no number.")
            : metric.Evaluate(new MetricInput
            {
                Wave = wave,
                Second = second,
                Parameters = spec.Parameters,
                LineFrequency = board.LineFrequency,
                SwitchingFrequency = board.SwitchingFrequency,
                Indication = Indication(observation),
                Capacitor = observation.Capacitor,
            });
        var unit = metric.Unit ?? observation.Unit;
        return new MetricValue
        {
            Name = spec.Name,
            Label = spec.Label,
            Id = metric.Id,
            Value = result.HasValue ? unit.Shown(result.Value) : double.NaN,
            Unit = unit.Symbol,
            Display = result.HasValue ? unit.Display(result.Value) : "no value",
            Definition = metric.Definition,
            Condition = condition.Name,
            Of = spec.Of,
            From = wave?.Start ?? observation.Start,
            To = wave?.End ?? observation.Stop,
            Remark = result.Reason,
        };
    }

    /// <summary>The temperature that the board's program reads at the observed pin, when it reads one there.</summary>
    private Func<double, MetricResult>? Indication(Observation observation)
    {
        var readout = board.Readouts.FirstOrDefault(r => r.Unit == Unit.Temperature.Symbol && r.Node == observation.Node);
        return readout is null ? null : volts => MetricResult.Of(readout.Convert(volts));
    }

    /// <summary>The part of a waveform within a window; null when some of the waveform is no number.</summary>
    private Waveform? Cut(Observation observation, WindowSpec window)
    {
        if (observation.Wave is not { Count: > 1 } wave || window.Kind == WindowKind.Whole)
        {
            return observation.Wave;
        }

        var (from, to) = window.Within(wave.Start, wave.End, board.LineFrequency, board.SwitchingFrequency);
        return wave.Slice(from, to);
    }
}
