using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Designs;
using BoardSim.Faults;

namespace BoardSim.Scenarios.Reader;

/// <summary>The block that a scenario is about, as far as it could be read, and the names it offers.</summary>
internal sealed class BlockInHand
{
    private BlockInHand(Func<Block> fresh, BoardPlan? plan)
    {
        Fresh = fresh;
        Plan = plan;
        Block = fresh();
    }

    /// <summary>Makes the block with its own values.</summary>
    public Func<Block> Fresh { get; }

    /// <summary>The board file's plan; null for a single block.</summary>
    public BoardPlan? Plan { get; }

    /// <summary>A block with its default values.</summary>
    public Block Block { get; }

    /// <summary>The board that the scenario's values give; null when they give none.</summary>
    public Board? Board { get; private set; }

    /// <summary>The board of each condition that could be built, by the condition's name.</summary>
    public Dictionary<string, Board> Boards { get; } = new(StringComparer.Ordinal);

    public string Id => Block.Id;

    /// <summary>A fault that the block has under another choice than its usual ones; null when it has none of that name.</summary>
    /// <param name="id">Id of the fault.</param>
    public FaultDefinition? ElsewhereFault(string id) =>
        Plan is null ? BlockVariants.Of(Id).SelectMany(v => v.Faults).FirstOrDefault(f => f.Id == id) : null;

    public static BlockInHand? Find(string id) =>
        BlockCatalogue.Find(id) is { } block && block.Id == id ? new BlockInHand(() => BlockCatalogue.Create(id), null) : null;

    public static BlockInHand Of(BoardPlan plan) => new(plan.Make, plan);

    /// <summary>Builds the board from values, to know its test points.</summary>
    /// <returns>What is wrong with the values together, one sentence each.</returns>
    public IReadOnlyList<string> Build(IReadOnlyList<ValueSetting> values)
    {
        try
        {
            Board = BoardOf.Condition(Fresh, values, new ConditionSpec { Name = ConditionSpec.Healthy, Label = "" });
            return [];
        }
        catch (BlockException wrong)
        {
            return wrong.Findings;
        }
    }
}
