namespace BoardSim.Scenarios.Format;

/// <summary>A key of a mapping: its name, what may stand behind it, and what it means.</summary>
/// <param name="Name">The key.</param>
/// <param name="Type">What may stand behind it.</param>
/// <param name="Description">What it means, for people.</param>
/// <param name="Required">True when the key must be there.</param>
internal sealed record Field(string Name, FieldType Type, string Description, bool Required = false);

/// <summary>The keys that a mapping may have.</summary>
/// <param name="What">What the mapping describes, such as <c>observation</c>.</param>
/// <param name="Fields">The keys, in the order people write them.</param>
internal sealed record FieldSet(string What, params IReadOnlyList<Field> Fields)
{
    public Field this[string name] => Fields.First(f => f.Name == name);
}
