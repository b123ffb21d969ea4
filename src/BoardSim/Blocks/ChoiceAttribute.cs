namespace BoardSim.Blocks;

/// <summary>Marks a property of a block, of an enum type, as a choice that a scenario can make.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ChoiceAttribute : Attribute
{
    /// <summary>Describes the choice.</summary>
    /// <param name="key">Key in scenario files: lower case words joined by hyphens, parts and their properties by a dot.</param>
    /// <param name="description">What is chosen, one sentence.</param>
    public ChoiceAttribute(string key, string description)
    {
        Key = key;
        Description = description;
    }

    /// <summary>Key in scenario files.</summary>
    public string Key { get; }

    /// <summary>What is chosen.</summary>
    public string Description { get; }

    /// <summary>True for a value of the bench, which has no meaning on a board: its source, its load.</summary>
    public bool OnBenchOnly { get; set; }
}
