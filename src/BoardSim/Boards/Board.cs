using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Boards;

/// <summary>
/// A circuit that can be powered up and measured: its parts, the points where a probe or a clamp can be put, and what
/// somebody who runs it should know about its time scales.
/// </summary>
public sealed class Board
{
    /// <summary>Title, one line.</summary>
    public required string Title { get; init; }

    /// <summary>The parts and how they are wired.</summary>
    public required Circuit Circuit { get; init; }

    /// <summary>Points for a voltage probe, each with its reference.</summary>
    public required IReadOnlyList<TestPoint> TestPoints { get; init; }

    /// <summary>Points for a current clamp.</summary>
    public IReadOnlyList<CurrentPoint> Currents { get; init; } = [];

    /// <summary>What is worked out of voltages at pins, by the board's program or a meter; a fault of the program replaces entries.</summary>
    public IReadOnlyList<Readout> Readouts { get; init; } = [];

    /// <summary>States of parts that tell what goes on, beside what can be probed.</summary>
    public IReadOnlyList<StatePoint> States { get; init; } = [];

    /// <summary>Frequency of the supply in hertz, where there is one.</summary>
    public double? LineFrequency { get; init; }

    /// <summary>True when the line is computed by its RMS value: nothing alternates on this board.</summary>
    public bool LineByRms { get; init; }

    /// <summary>Switching frequency in hertz, where something switches periodically.</summary>
    public double? SwitchingFrequency { get; init; }

    /// <summary>Length in seconds of a transient run that shows what the board is about; null when an operating point says it all.</summary>
    public double? SuggestedStop { get; init; }

    /// <summary>Instant in seconds from which a healthy board has settled into its periodic state, so that ripple and means can be
    /// taken; null when it never is periodic.</summary>
    public double? SettledFrom { get; init; }

    /// <summary>True when a run starts at power-up, with everything discharged but for the parts' own start values, rather than
    /// from an operating point.</summary>
    public bool StartsAtRest { get; init; }

    /// <summary>True when any point of the board is connected to the line.</summary>
    public bool LineSide { get; init; }

    /// <summary>For a board of several blocks, the board of each on its bench, by its place; empty for a single block. Faults are applied to
    /// these and the whole is put together anew, so faults come first and edits of the whole circuit after them.</summary>
    public IReadOnlyDictionary<string, Board> Blocks { get; init; } = new Dictionary<string, Board>();

    /// <summary>The test point of that name.</summary>
    /// <param name="name">Name, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">The board has none of that name.</exception>
    public TestPoint TestPoint(string name) =>
        TestPoints.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Title} has no test point '{name}'; it has {string.Join(", ", TestPoints.Select(p => p.Name))}.");

    /// <summary>The current point of that name.</summary>
    /// <param name="name">Name, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">The board has none of that name.</exception>
    public CurrentPoint CurrentPoint(string name) =>
        Currents.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Title} has no current point '{name}'; it has {string.Join(", ", Currents.Select(p => p.Name))}.");

    /// <summary>The readout of that name.</summary>
    /// <param name="name">Name, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">The board has none of that name.</exception>
    public Readout Readout(string name) =>
        Readouts.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Title} has no readout '{name}'; it has {string.Join(", ", Readouts.Select(p => p.Name))}.");

    /// <summary>The state of that name.</summary>
    /// <param name="name">Name, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">The board has none of that name.</exception>
    public StatePoint State(string name) =>
        States.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw new KeyNotFoundException($"{Title} has no state '{name}'; it has {string.Join(", ", States.Select(p => p.Name))}.");

    /// <summary>A copy whose parts can be changed and run apart from this board's.</summary>
    public Board Clone() => CloneWith(Readouts);

    /// <summary>A copy with other readouts: a fault of the program.</summary>
    /// <param name="readouts">The readouts.</param>
    public Board CloneWith(IReadOnlyList<Readout> readouts) => CloneWith(readouts, States);

    /// <summary>A copy without the states of parts that are no longer what they were: a limiter that has become a link has no temperature.</summary>
    /// <param name="before">The board before parts were replaced.</param>
    internal Board WithStatesOf(Board before)
    {
        var left = States.Where(s => Circuit.Find(s.Part)?.GetType() == before.Circuit.Find(s.Part)?.GetType()).ToList();
        return left.Count == States.Count ? this : CloneWith(Readouts, left);
    }

    private Board CloneWith(IReadOnlyList<Readout> readouts, IReadOnlyList<StatePoint> states) => new()
    {
        Title = Title,
        Circuit = Circuit.Clone(),
        TestPoints = TestPoints,
        Currents = Currents,
        Readouts = readouts,
        States = states,
        Blocks = Blocks,
        LineFrequency = LineFrequency,
        LineByRms = LineByRms,
        SwitchingFrequency = SwitchingFrequency,
        SuggestedStop = SuggestedStop,
        SettledFrom = SettledFrom,
        StartsAtRest = StartsAtRest,
        LineSide = LineSide,
    };
}
