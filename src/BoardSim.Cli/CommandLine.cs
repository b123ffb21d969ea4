using System.CommandLine;
using BoardSim.Cli.Commands;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Cli;

/// <summary>The command line as a function from arguments to text and an exit code, so that it can be tested without a process.</summary>
internal static class CommandLine
{
    /// <summary>Runs one command.</summary>
    /// <param name="args">Arguments without the program's name.</param>
    /// <param name="output">Receives results.</param>
    /// <param name="error">Receives messages.</param>
    /// <param name="cancellation">Stops the run; the process then ends with <see cref="ExitCode.Cancelled"/>.</param>
    public static int Run(string[] args, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var terminal = new Terminal(output, error, cancellation);
        var parsed = Root(terminal).Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var message in parsed.Errors)
            {
                error.WriteLine(message.Message);
            }

            error.WriteLine("See --help of the command for what it takes.");
            return ExitCode.BadInput;
        }

        try
        {
            return parsed.Invoke(new InvocationConfiguration
            {
                Output = output,
                Error = error,
                EnableDefaultExceptionHandler = false,
                ProcessTerminationTimeout = null,
            });
        }
        catch (InputException wrong)
        {
            return Report(error, wrong.Messages, ExitCode.BadInput);
        }
        catch (CircuitException wrong)
        {
            return Report(error, wrong.Findings, ExitCode.BadInput);
        }
        catch (SolverException gaveUp)
        {
            return Report(error, [gaveUp.Message], ExitCode.SolverGaveUp);
        }
        catch (OperationCanceledException cancelled)
        {
            return Report(error, [cancelled is CancelledException ? cancelled.Message : "Cancelled."], ExitCode.Cancelled);
        }
#pragma warning disable CA1031 // The last line of defence: the user gets a sentence, not a stack trace.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            return Report(error, [$"A fault of this program, please report it: {fault.GetType().Name}: {fault.Message}"], ExitCode.InternalError);
        }
    }

    private static RootCommand Root(Terminal terminal)
    {
        var root = new RootCommand("Computes how blocks of appliance control boards behave and how each failure shows at the test points.");
        root.Add(RunCommand.Create(terminal));
        root.Add(SolveCommand.Create(terminal));
        root.Add(BlocksCommand.Create(terminal));
        root.Add(FaultsCommand.Create(terminal));
        root.Add(CatalogueCommand.Create(terminal));
        root.Add(SchemaCommand.Create(terminal));
        return root;
    }

    private static int Report(TextWriter error, IEnumerable<string> messages, int code)
    {
        foreach (var message in messages)
        {
            error.WriteLine(message);
        }

        return code;
    }
}
