using Spectre.Console;

namespace BoardSim.Cli;

/// <summary>Where a command speaks: results to one writer, messages to the other. Colours and progress appear only on a real terminal.</summary>
internal sealed class Terminal
{
    /// <summary>Width in columns of text that goes to a file or a pipe: wide enough that no table is folded.</summary>
    private const int RedirectedWidth = 240;

    public Terminal(TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        Output = output;
        Error = error;
        Cancellation = cancellation;
        Results = Open(output);
        Messages = Open(error);
    }

    /// <summary>Results as plain text.</summary>
    public TextWriter Output { get; }

    /// <summary>Messages as plain text.</summary>
    public TextWriter Error { get; }

    /// <summary>Results with tables and colours.</summary>
    public IAnsiConsole Results { get; }

    /// <summary>Messages with progress and colours.</summary>
    public IAnsiConsole Messages { get; }

    /// <summary>Signalled when the user wants to stop.</summary>
    public CancellationToken Cancellation { get; }

    private static IAnsiConsole Open(TextWriter writer)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(writer) });
        if (!console.Profile.Out.IsTerminal)
        {
            console.Profile.Width = RedirectedWidth;
            console.Profile.Capabilities.Ansi = false;
            console.Profile.Capabilities.Interactive = false;
        }

        return console;
    }
}
