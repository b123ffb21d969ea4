using BoardSim.Blocks;
using BoardSim.Designs;

namespace BoardSim.Scenarios;

/// <summary>A scenario file that has been read and found valid: a block with its values, the conditions it is run under, what is
/// observed, what is derived from it, and what is expected to come out.</summary>
public sealed record Scenario
{
    /// <summary>Name of the scenario: the file's name without folder and extension, such as <c>bulk-esr-ripple</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Title, one line.</summary>
    public required string Title { get; init; }

    /// <summary>What the scenario shows and why, a few sentences; empty when the file has none.</summary>
    public string About { get; init; } = "";

    /// <summary>Id of the block, such as <c>bridge-bulk</c>, or of the board.</summary>
    public required string Block { get; init; }

    /// <summary>The board that the scenario is about; null when it is about a single block.</summary>
    public BoardPlan? Board { get; init; }

    /// <summary>Values of the block that differ from its defaults, for all conditions.</summary>
    public IReadOnlyList<ValueSetting> Values { get; init; } = [];

    /// <summary>How the circuit is computed.</summary>
    public RunSettings Run { get; init; } = new();

    /// <summary>The conditions in the order of the file; the healthy one is always among them.</summary>
    public required IReadOnlyList<ConditionSpec> Conditions { get; init; }

    /// <summary>What is observed, and with which instrument.</summary>
    public required IReadOnlyList<ObservationSpec> Observations { get; init; }

    /// <summary>Numbers that are derived from the observations.</summary>
    public IReadOnlyList<MetricSpec> Metrics { get; init; } = [];

    /// <summary>One value or severity that is stepped through a range; null when there is no sweep.</summary>
    public SweepSpec? Sweep { get; init; }

    /// <summary>Values that scatter within tolerances; null when there is no tolerance run.</summary>
    public ToleranceSpec? Tolerance { get; init; }

    /// <summary>What has to come out.</summary>
    public IReadOnlyList<ExpectationSpec> Expectations { get; init; } = [];

    /// <summary>A fresh block of the scenario's kind, or a fresh design of its board, before any value of the scenario.</summary>
    public Block NewBlock() => Board?.Make() ?? BlockCatalogue.Create(Block);

    /// <summary>Figures to draw.</summary>
    public IReadOnlyList<FigureSpec> Figures { get; init; } = [];
}
