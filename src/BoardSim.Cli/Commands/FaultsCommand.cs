using System.CommandLine;
using BoardSim.Blocks;
using BoardSim.Faults;
using BoardSim.Quantities;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary><c>faults [BLOCK]</c>: lists the faults of all blocks or of one.</summary>
internal static class FaultsCommand
{
    public static Command Create(Terminal terminal)
    {
        var id = new Argument<string?>("block") { Description = "A block, or the file of a board; the faults of all blocks are listed without one.", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("faults", "Lists the faults of the blocks, their severities and how they come about.") { id };
        command.SetAction(parsed => List(terminal, parsed.GetValue(id) is { } name ? [BlockNamed.Get(name)] : BlockCatalogue.All));
        return command;
    }

    private static int List(Terminal terminal, IReadOnlyList<Block> blocks)
    {
        var table = Listing.Table("Block", "Fault", "Severity", "What it is", "How it comes about");
        foreach (var block in blocks)
        {
            foreach (var fault in Listing.Faults(block))
            {
                Listing.Row(table, block.Id, fault.Id, Severity(fault.Severity), fault.Title, fault.Mechanism);
            }
        }

        terminal.Results.Write(table);
        return ExitCode.Done;
    }

    private static string Severity(SeverityDefinition? severity)
    {
        if (severity is null)
        {
            return "present";
        }

        var unit = Unit.Find(severity.Unit)!;
        string Show(double value) => Quantity.FormatShort(value, unit);
        return $"{Show(severity.Minimum)} to {Show(severity.Maximum)}, usual {Show(severity.Default)}: {severity.Description}";
    }
}
