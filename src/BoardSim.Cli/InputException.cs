namespace BoardSim.Cli;

/// <summary>Input that a command cannot use; each message is printed on a line of its own and the process ends with <see cref="ExitCode.BadInput"/>.</summary>
internal sealed class InputException(IReadOnlyList<string> messages) : Exception(string.Join(Environment.NewLine, messages))
{
    public InputException(string message)
        : this([message])
    {
    }

    public IReadOnlyList<string> Messages { get; } = messages;
}
