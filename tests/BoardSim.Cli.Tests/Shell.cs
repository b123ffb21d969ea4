namespace BoardSim.Cli.Tests;

/// <summary>Runs the command line in this process: text in, text and exit code out.</summary>
internal static class Shell
{
    public static Outcome Run(params string[] args) => Run(CancellationToken.None, args);

    public static Outcome Run(CancellationToken cancellation, params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = CommandLine.Run(args, output, error, cancellation);
        return new Outcome(code, output.ToString(), error.ToString());
    }

    public sealed record Outcome(int Code, string Output, string Error);
}
