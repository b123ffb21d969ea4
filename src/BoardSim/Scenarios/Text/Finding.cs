namespace BoardSim.Scenarios;

/// <summary>One thing that is wrong in a scenario file, and what would be right.</summary>
/// <param name="File">Name of the file as it was given.</param>
/// <param name="Line">Line, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Column">Column, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Offending">The text that is wrong, shortened when it is long; empty when something is missing.</param>
/// <param name="Message">What is wrong and what would be right.</param>
public sealed record Finding(string File, int Line, int Column, string Offending, string Message)
{
    /// <summary>The finding in one line, in the form that editors and terminals turn into a link: file, line, column, message.</summary>
    public override string ToString() => Line > 0 ? $"{File}:{Line}:{Column}: {Message}" : $"{File}: {Message}";
}
