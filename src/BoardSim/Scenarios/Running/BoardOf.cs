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
    /// <param name="swept">A value that goes before all others; null for none.</param>
    /// <exception cref="BlockException">The values do not fit together.</exception>
    /// <exception cref="FaultException">A severity does not fit, or with these values the block has no such fault.</exception>
    public static Board Condition(string blockId, IReadOnlyList<ValueSetting> values, ConditionSpec condition, ValueSetting? swept = null)
    {
        var block = BlockCatalogue.Create(blockId);
        foreach (var setting in values.Concat(condition.Values).Concat(swept is null ? [] : [swept]))
        {
            block.Value(setting.Key).Set(block, setting.Value);
        }

        var board = block.Build();
        return condition.Faults.Aggregate(board, (faulty, fault) => Fault(block, fault.Fault).Apply(faulty, fault.Severity));
    }

    /// <summary>The fault of a block that has its values: some faults are there under one choice only.</summary>
    private static FaultDefinition Fault(Block block, string id) => block.Faults.FirstOrDefault(f => f.Id == id)
        ?? throw new FaultException($"with these values {block.Id} has no fault {id}; it has {string.Join(", ", block.Faults.Select(f => f.Id))}");
}
