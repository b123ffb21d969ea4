using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Faults;

namespace BoardSim.Scenarios;

/// <summary>Builds the board of a condition: the block's defaults, then the scenario's values, then the condition's, then its faults in order.</summary>
internal static class BoardOf
{
    /// <summary>The board of a condition.</summary>
    /// <param name="blockId">Id of the block.</param>
    /// <param name="values">Values of the scenario.</param>
    /// <param name="condition">The condition.</param>
    /// <param name="own">Values of one case, which go before all others; null for none.</param>
    /// <param name="deviates">True when these are a board's deviations from the design, and not another design.</param>
    /// <exception cref="BlockException">The values do not fit together.</exception>
    /// <exception cref="FaultException">A severity does not fit.</exception>
    public static Board Condition(string blockId, IReadOnlyList<ValueSetting> values, ConditionSpec condition, IReadOnlyList<ValueSetting>? own = null, bool deviates = false)
    {
        var block = Block(blockId, values, condition, own);
        block.Design = deviates ? Block(blockId, values, condition) : null;
        var board = block.Build();
        return condition.Faults.Aggregate(board, (faulty, fault) => block.Fault(fault.Fault).Apply(faulty, fault.Severity));
    }

    /// <summary>The block of a condition with its values set, before any fault.</summary>
    /// <param name="blockId">Id of the block.</param>
    /// <param name="values">Values of the scenario.</param>
    /// <param name="condition">The condition.</param>
    /// <param name="own">Values of one case, which go before all others; null for none.</param>
    /// <exception cref="BlockException">A value is out of range.</exception>
    public static Block Block(string blockId, IReadOnlyList<ValueSetting> values, ConditionSpec condition, IReadOnlyList<ValueSetting>? own = null)
    {
        var block = BlockCatalogue.Create(blockId);
        foreach (var setting in values.Concat(condition.Values).Concat(own ?? []))
        {
            block.Value(setting.Key).Set(block, setting.Value);
        }

        return block;
    }
}
