using BoardSim.Quantities;

namespace BoardSim.Faults;

/// <summary>How bad a fault is, as a physical value: ohms, a fraction of the rated capacitance, a share of the turns.</summary>
public sealed record SeverityDefinition
{
    /// <summary>Symbol of the unit, one of <see cref="Quantities.Unit"/>; empty for a ratio.</summary>
    public required string Unit { get; init; }

    /// <summary>Value when none is given, as the unit holds it.</summary>
    public required double Default { get; init; }

    /// <summary>Smallest legal value.</summary>
    public required double Minimum { get; init; }

    /// <summary>Largest legal value.</summary>
    public required double Maximum { get; init; }

    /// <summary>What the value is, one sentence.</summary>
    public required string Description { get; init; }

    internal string Show(double value) =>
        Quantity.FormatShort(value, Quantities.Unit.Find(Unit) ?? throw new InvalidOperationException($"The unit '{Unit}' is not known."));
}
