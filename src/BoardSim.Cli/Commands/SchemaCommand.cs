using System.CommandLine;
using BoardSim.Scenarios;

namespace BoardSim.Cli.Commands;

/// <summary><c>schema</c>: prints the JSON Schema of scenario files, for editors.</summary>
internal static class SchemaCommand
{
    public static Command Create(Terminal terminal)
    {
        var command = new Command("schema", "Prints the JSON Schema of scenario files (draft 2020-12), with which editors complete and mark them.");
        command.SetAction(_ =>
        {
            terminal.Output.Write(ScenarioSchema.ToJson());
            return ExitCode.Done;
        });
        return command;
    }
}
