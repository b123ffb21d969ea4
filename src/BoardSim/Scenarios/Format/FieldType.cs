using BoardSim.Quantities;

namespace BoardSim.Scenarios.Format;

/// <summary>What may stand behind a key of a scenario file. Reader and schema are both made from it.</summary>
internal abstract record FieldType;

/// <summary>Text for people.</summary>
internal sealed record TextType : FieldType;

/// <summary>A name that the author makes up: lower case letters, digits and hyphens.</summary>
internal sealed record NameType : FieldType;

/// <summary>A number with a unit, between two legal values.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Minimum">Smallest legal value in SI units.</param>
/// <param name="Maximum">Largest legal value in SI units.</param>
/// <param name="Above">True when the smallest value itself is not legal.</param>
internal sealed record QuantityType(Unit Unit, double Minimum = double.NegativeInfinity, double Maximum = double.PositiveInfinity, bool Above = false) : FieldType;

/// <summary>A number with a unit that depends on what is asked for elsewhere in the file.</summary>
internal sealed record AnyQuantityType : FieldType;

/// <summary>A whole number.</summary>
/// <param name="Minimum">Smallest legal value.</param>
/// <param name="Maximum">Largest legal value.</param>
internal sealed record CountType(int Minimum, int Maximum) : FieldType;

/// <summary>One of a few words.</summary>
/// <param name="Words">The words.</param>
internal sealed record ChoiceType(IReadOnlyList<Word> Words) : FieldType;

/// <summary>A word of a choice and what it means.</summary>
internal sealed record Word(string Name, string Description);

/// <summary>A stretch of time.</summary>
internal sealed record WindowType : FieldType;

/// <summary>A list with at least one item.</summary>
internal sealed record ListType(FieldType Item) : FieldType;

/// <summary>A mapping from names that the author makes up to items of one kind.</summary>
internal sealed record NamedType(FieldType Item) : FieldType;

/// <summary>A mapping with known keys.</summary>
internal sealed record ObjectType(FieldSet Fields) : FieldType;

/// <summary>Something whose legal names depend on the block.</summary>
/// <param name="What">What it names.</param>
internal sealed record OfBlockType(BlockNames What) : FieldType;

/// <summary>What a name of a block can be.</summary>
internal enum BlockNames
{
    /// <summary>Mapping from value keys to values.</summary>
    Values,

    /// <summary>Mapping from fault ids to severities.</summary>
    Faults,

    /// <summary>Key of a value that can be swept.</summary>
    SweepableValue,

    /// <summary>Mapping from value keys to tolerances.</summary>
    Tolerances,

    /// <summary>Id of a fault that has a severity.</summary>
    FaultWithSeverity,

    /// <summary>Name of a test point.</summary>
    TestPoint,

    /// <summary>Place of a black lead: a test point, or a reference such as neutral.</summary>
    LeadPlace,

    /// <summary>Name of a current.</summary>
    Current,

    /// <summary>Name of a state of a part.</summary>
    State,

    /// <summary>Mapping from ports to nets.</summary>
    Wires,

    /// <summary>Name of something that is worked out of a voltage at a pin.</summary>
    Readout,
}

/// <summary>Id of a block.</summary>
internal sealed record BlockType : FieldType;

/// <summary>Id of a metric.</summary>
internal sealed record MetricType : FieldType;

/// <summary>Mapping from the keys of a metric's parameters to their values.</summary>
internal sealed record MetricParametersType : FieldType;

/// <summary>An expectation in words.</summary>
internal sealed record ExpectationType : FieldType;
