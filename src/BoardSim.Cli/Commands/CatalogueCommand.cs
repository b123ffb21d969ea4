using System.CommandLine;
using BoardSim.Reports.Catalogue;

namespace BoardSim.Cli.Commands;

/// <summary><c>catalogue</c>: prints all blocks with their values, parts, points and faults as one page of Markdown.</summary>
internal static class CatalogueCommand
{
    public static Command Create(Terminal terminal)
    {
        var command = new Command("catalogue", "Prints all blocks with their values, parts, ports, test points and faults as one page of Markdown.");
        command.SetAction(_ =>
        {
            terminal.Output.Write(CataloguePage.ToMarkdown());
            return ExitCode.Done;
        });
        return command;
    }
}
