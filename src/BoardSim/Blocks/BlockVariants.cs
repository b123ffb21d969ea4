namespace BoardSim.Blocks;

/// <summary>A block as it is and with each of its choices made differently: some parts, points and faults are there under one choice only.</summary>
public static class BlockVariants
{
    /// <summary>The variants whose values fit together, the block with its usual values first.</summary>
    /// <param name="id">Id of a block of the catalogue.</param>
    /// <exception cref="KeyNotFoundException">There is no such block.</exception>
    public static IReadOnlyList<Block> Of(string id)
    {
        var usual = BlockCatalogue.Create(id);
        var variants = new List<Block> { usual };
        foreach (var choice in usual.Values.Where(v => v.Kind == ValueKind.Choice))
        {
            foreach (var word in choice.Choices.Where(w => w != (string)choice.Default!))
            {
                var other = BlockCatalogue.Create(id);
                choice.Set(other, word);
                if (other.Problems().Count == 0)
                {
                    variants.Add(other);
                }
            }
        }

        return variants;
    }

    /// <summary>The choice under which a block has a fault that it has not as it is, such as <c>detail: switching</c>; null when there is none.</summary>
    /// <param name="block">The block with its values.</param>
    /// <param name="fault">Id of the fault.</param>
    public static string? ChoiceWith(Block block, string fault)
    {
        ArgumentNullException.ThrowIfNull(block);
        if (BlockCatalogue.Find(block.Id) is null)
        {
            return null;
        }

        var other = Of(block.Id).FirstOrDefault(v => v.Faults.Any(f => f.Id == fault));
        var choice = other?.Values.FirstOrDefault(v => v.Kind == ValueKind.Choice && !Equals(v.Get(other), v.Get(block)));
        return choice is null ? null : $"{choice.Key}: {choice.Get(other!)}";
    }
}
