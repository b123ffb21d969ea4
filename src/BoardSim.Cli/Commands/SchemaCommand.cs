using System.CommandLine;
using BoardSim.Scenarios;

namespace BoardSim.Cli.Commands;

/// <summary><c>schema [scenario|board]</c>: prints the JSON Schema of scenario or board files, for editors.</summary>
internal static class SchemaCommand
{
    public static Command Create(Terminal terminal)
    {
        var of = new Argument<string>("of") { Description = "What it is the schema of: scenario or board.", DefaultValueFactory = _ => "scenario" };
        of.AcceptOnlyFromAmong("scenario", "board");
        var command = new Command("schema", "Prints the JSON Schema of scenario files or board files (draft 2020-12), with which editors complete and mark them.") { of };
        command.SetAction(parsed =>
        {
            terminal.Output.Write(parsed.GetValue(of) == "board" ? BoardSchema.ToJson() : ScenarioSchema.ToJson());
            return ExitCode.Done;
        });
        return command;
    }
}
