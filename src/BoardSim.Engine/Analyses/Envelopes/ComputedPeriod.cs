namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>One period that was computed step by step.</summary>
internal sealed class ComputedPeriod
{
    /// <summary>Its number, from the run's first whole period.</summary>
    public required int Number { get; init; }

    /// <summary>Charges of cuts and fluxes at its start.</summary>
    public required double[] StartCharge { get; init; }

    /// <summary>Charges of cuts and fluxes at its end.</summary>
    public required double[] EndCharge { get; init; }

    /// <summary>The unknowns at its end.</summary>
    public required double[] EndState { get; init; }

    /// <summary>Instants of the changes of discrete states and of the corners of sources, in seconds from the period's start, rising.</summary>
    public required double[] Breaks { get; init; }

    /// <summary>Instants of the changes of discrete states alone, in the order in which they happened.</summary>
    public required double[] EventTimes { get; init; }

    /// <summary>What happened, in order: part and new state.</summary>
    public required (string Part, string State)[] Happened { get; init; }

    /// <summary>Guards below zero at its end.</summary>
    public required bool[] ArmedAfter { get; init; }

    /// <summary>The samples; times in seconds from the period's start.</summary>
    public required RecordPiece Record { get; init; }

    /// <summary>What the charges gained.</summary>
    public double[] Increment => [.. EndCharge.Zip(StartCharge, (b, a) => b - a)];

    /// <summary>True when the same happens in another period, in the same order.</summary>
    public bool HappensAs(ComputedPeriod other) =>
        Happened.SequenceEqual(other.Happened) && Breaks.Length == other.Breaks.Length && ArmedAfter.SequenceEqual(other.ArmedAfter);
}
