using BoardSim.Blocks;
using BoardSim.Designs;
using BoardSim.Faults;
using BoardSim.Scenarios;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary>Tables of plain texts: nothing in a text is taken for markup.</summary>
internal static class Listing
{
    public static Table Table(params string[] heads)
    {
        var table = new Table();
        foreach (var head in heads)
        {
            table.AddColumn(new TableColumn(new Text(head)));
        }

        return table;
    }

    /// <summary>The faults of a block under any of its choices, or of a board.</summary>
    public static IEnumerable<FaultDefinition> Faults(Block block) =>
        BlockCatalogue.Find(block.Id) is null ? block.Faults : BlockVariants.Of(block.Id).SelectMany(v => v.Faults).DistinctBy(f => f.Id);

    public static void Row(Table table, params string[] cells) => table.AddRow([.. cells.Select(c => new Text(c))]);
}

/// <summary>Finds blocks by the names that a user types, and boards by their files.</summary>
internal static class BlockNamed
{
    public static Block Get(string id) => BlockCatalogue.Find(id) ?? (IsFile(id) ? Board(id) : throw Unknown(id));

    private static BoardDesign Board(string file)
    {
        try
        {
            return BoardFile.Read(file).Make();
        }
        catch (ScenarioException wrong)
        {
            throw new InputException([.. wrong.Findings.Select(f => f.ToString())]);
        }
    }

    private static bool IsFile(string id) => id.EndsWith(".yaml", StringComparison.OrdinalIgnoreCase) || id.EndsWith(".yml", StringComparison.OrdinalIgnoreCase);

    private static InputException Unknown(string id) =>
        new($"There is no block '{id}'; there are {string.Join(", ", BlockCatalogue.All.Select(b => b.Id))}, and boards by the names of their files.");
}
