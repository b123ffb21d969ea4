using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Faults;

namespace BoardSim.Scenarios;

/// <summary>Builds the board of a condition: the block's defaults, then the scenario's values, then the condition's, then its faults in order.</summary>
internal static class BoardOf
{
    /// <summary>The board of a condition.</summary>
    /// <param name="fresh">Makes the block, or the design of the board, with its own values.</param>
    /// <param name="values">Values of the scenario.</param>
    /// <param name="condition">The condition.</param>
    /// <param name="own">Values of one case, which go before all others; null for none.</param>
    /// <param name="deviates">True when these are a board's deviations from the design, and not another design.</param>
    /// <exception cref="BlockException">The values do not fit together.</exception>
    /// <exception cref="FaultException">A severity does not fit, or with these values the block has no such fault.</exception>
    public static Board Condition(Func<Block> fresh, IReadOnlyList<ValueSetting> values, ConditionSpec condition, IReadOnlyList<ValueSetting>? own = null, bool deviates = false)
    {
        var block = Block(fresh, values, condition, own);
        block.Design = deviates ? Block(fresh, values, condition) : null;
        var board = block.Build();
        return condition.Faults.Aggregate(board, (faulty, fault) => Fault(block, fault.Fault).Apply(faulty, fault.Severity));
    }

    /// <summary>The block of a condition with its values set, before any fault.</summary>
    /// <param name="fresh">Makes the block, or the design of the board, with its own values.</param>
    /// <param name="values">Values of the scenario.</param>
    /// <param name="condition">The condition.</param>
    /// <param name="own">Values of one case, which go before all others; null for none.</param>
    /// <exception cref="BlockException">A value is out of range.</exception>
    public static Block Block(Func<Block> fresh, IReadOnlyList<ValueSetting> values, ConditionSpec condition, IReadOnlyList<ValueSetting>? own = null)
    {
        var block = fresh();
        foreach (var setting in values.Concat(condition.Values).Concat(own ?? []))
        {
            block.Value(setting.Key).Set(block, setting.Value);
        }

        return block;
    }

    /// <summary>The fault of a block that has its values: some faults are there under one choice only.</summary>
    private static FaultDefinition Fault(Block block, string id) => block.Faults.FirstOrDefault(f => f.Id == id)
        ?? throw new FaultException(BlockVariants.ChoiceWith(block, id) is { } choice
            ? $"with these values {block.Id} has no fault {id}; it has with {choice}"
            : $"with these values {block.Id} has no fault {id}; it has {string.Join(", ", block.Faults.Select(f => f.Id))}");
}
