using System.CommandLine;
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Quantities;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary><c>blocks [ID]</c>: lists the blocks, or tells what a scenario can set and observe on one of them.</summary>
internal static class BlocksCommand
{
    public static Command Create(Terminal terminal)
    {
        var id = new Argument<string?>("block") { Description = "A block, or the file of a board; all blocks are listed without one.", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("blocks", "Lists the blocks; with the name of one, its values, test points, currents and readouts.") { id };
        command.SetAction(parsed => parsed.GetValue(id) is { } name ? One(terminal, BlockNamed.Get(name)) : All(terminal));
        return command;
    }

    private static int All(Terminal terminal)
    {
        var table = Listing.Table("Block", "Title", "What it does");
        foreach (var block in BlockCatalogue.All)
        {
            Listing.Row(table, block.Id, block.Title, block.Summary);
        }

        terminal.Results.Write(table);
        return ExitCode.Done;
    }

    private static int One(Terminal terminal, Block block)
    {
        var output = terminal.Results;
        var board = block.Build();
        output.Write(new Text($"{block.Id}: {block.Title}\n{block.Summary}\n\n{block.Topology.TrimEnd()}\n\n"));
        foreach (var caution in Cautions.For(board))
        {
            output.Write(new Text($"CAUTION: {caution}\n"));
        }

        var values = Listing.Table("Value", "Usual", "Legal", "What it is");
        foreach (var value in block.Values)
        {
            Listing.Row(values, value.Key, Usual(value), Legal(value), value.Description);
        }

        output.Write(values);
        var points = Listing.Table("Test point", "Against", "What is there");
        foreach (var point in board.TestPoints)
        {
            Listing.Row(points, point.Name, point.ReferenceName, point.Description);
        }

        output.Write(points);
        Named(output, "Current", board.Currents.Select(c => (c.Name, c.Description)));
        Named(output, "Readout", board.Readouts.Select(r => (r.Name, r.Description)));
        Named(output, "State", board.States.Select(s => (s.Name, s.Description)));
        Named(output, "Port on a board", block.Ports.Select(p => (p.Name, p.Description)));
        return ExitCode.Done;
    }

    private static void Named(IAnsiConsole output, string head, IEnumerable<(string Name, string Description)> items)
    {
        var table = Listing.Table(head, "What it is");
        foreach (var (name, description) in items)
        {
            Listing.Row(table, name, description);
        }

        if (table.Rows.Count > 0)
        {
            output.Write(table);
        }
    }

    private static string Usual(ValueDefinition value) => value.Default switch
    {
        double number => Quantity.FormatShort(number, Unit.Find(value.Unit)!),
        null => "not set",
        var word => word.ToString()!,
    };

    private static string Legal(ValueDefinition value) => value.Kind == ValueKind.Choice
        ? string.Join(", ", value.Choices)
        : $"{Quantity.FormatShort(value.Minimum, Unit.Find(value.Unit)!)} to {Quantity.FormatShort(value.Maximum, Unit.Find(value.Unit)!)}";
}
