using BoardSim.Blocks;
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

    public static void Row(Table table, params string[] cells) => table.AddRow([.. cells.Select(c => new Text(c))]);
}

/// <summary>Finds blocks by the names that a user types.</summary>
internal static class BlockNamed
{
    public static Block Get(string id) =>
        BlockCatalogue.Find(id) ?? throw new InputException($"There is no block '{id}'; there are {string.Join(", ", BlockCatalogue.All.Select(b => b.Id))}.");
}
