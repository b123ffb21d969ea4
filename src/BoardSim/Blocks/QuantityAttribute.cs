namespace BoardSim.Blocks;

/// <summary>Marks a property of a block as a physical value that a scenario can set.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class QuantityAttribute : Attribute
{
    /// <summary>Describes the value.</summary>
    /// <param name="key">Key in scenario files: lower case words joined by hyphens, parts and their properties by a dot.</param>
    /// <param name="unit">Symbol of the unit, one of <see cref="Quantities.Unit"/>; empty for a ratio.</param>
    /// <param name="minimum">Smallest legal value, as the unit holds it (a temperature in kelvin).</param>
    /// <param name="maximum">Largest legal value, as the unit holds it (a temperature in kelvin).</param>
    /// <param name="description">What it is and what a usual value is, one sentence.</param>
    public QuantityAttribute(string key, string unit, double minimum, double maximum, string description)
    {
        Key = key;
        Unit = unit;
        Minimum = minimum;
        Maximum = maximum;
        Description = description;
    }

    /// <summary>Key in scenario files.</summary>
    public string Key { get; }

    /// <summary>Unit symbol; empty for a ratio.</summary>
    public string Unit { get; }

    /// <summary>Smallest legal value.</summary>
    public double Minimum { get; }

    /// <summary>Largest legal value.</summary>
    public double Maximum { get; }

    /// <summary>What it is.</summary>
    public string Description { get; }

    /// <summary>True for a value of the bench, which has no meaning on a board: its source, its load.</summary>
    public bool OnBenchOnly { get; set; }
}
