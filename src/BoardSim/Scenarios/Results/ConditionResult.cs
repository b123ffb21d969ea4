using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;

namespace BoardSim.Scenarios;

/// <summary>What came out under one condition.</summary>
public sealed record ConditionResult
{
    /// <summary>Name of the condition.</summary>
    public required string Name { get; init; }

    /// <summary>What figures and tables call it.</summary>
    public required string Label { get; init; }

    /// <summary>True for the condition that the others are compared with.</summary>
    public required bool IsHealthy { get; init; }

    /// <summary>One line per fault with its severity, such as <c>High ESR of the bulk capacitor, 2 ohm</c>; empty when there is none.</summary>
    public required IReadOnlyList<string> Faults { get; init; }

    /// <summary>The observed waveforms, in the order of the observations. In an operating-point run each has one sample.</summary>
    public required IReadOnlyList<SignalTrace> Waveforms { get; init; }

    /// <summary>What the meters show, in the order of the observations.</summary>
    public required IReadOnlyList<Reading> Readings { get; init; }

    /// <summary>The metrics, in the order of the scenario.</summary>
    public required IReadOnlyList<MetricValue> Metrics { get; init; }

    /// <summary>What the solver did, so that the figures can be trusted.</summary>
    public required SolverEvidence Evidence { get; init; }

    /// <summary>How the periodic state was found that the run starts from; null when it starts otherwise.</summary>
    public PeriodicEvidence? Periodic { get; init; }

    /// <summary>What happened during the run: switches, relays and fuses that changed state.</summary>
    public required IReadOnlyList<CircuitEvent> Events { get; init; }

    /// <summary>The circuit with its instruments as Berkeley SPICE text.</summary>
    public required string NetlistText { get; init; }

    /// <summary>Frequency of the mains in hertz; null when there is none.</summary>
    public double? LineFrequency { get; init; }

    /// <summary>Switching frequency in hertz; null when there is none.</summary>
    public double? SwitchingFrequency { get; init; }

    /// <summary>First recorded instant in seconds.</summary>
    public required double Start { get; init; }

    /// <summary>Last instant in seconds.</summary>
    public required double Stop { get; init; }

    /// <summary>Value of a metric or reading in its unit; null when there is none of that name, NaN when it has no value here.</summary>
    /// <param name="name">Name of a metric, or of an observation made with a meter.</param>
    public double? Value(string name) =>
        Metrics.FirstOrDefault(m => m.Name == name)?.Value ?? Readings.FirstOrDefault(r => r.Name == name)?.Value;

    /// <summary>The waveform of an observation, or null.</summary>
    /// <param name="name">Name of the observation.</param>
    public SignalTrace? Waveform(string name) => Waveforms.FirstOrDefault(w => w.Signal.Name == name);

    /// <summary>Start and end of a window in seconds, within what was recorded.</summary>
    /// <param name="window">The window.</param>
    public (double From, double To) Resolve(WindowSpec window)
    {
        ArgumentNullException.ThrowIfNull(window);
        return window.Within(Start, Stop, LineFrequency, SwitchingFrequency);
    }
}
