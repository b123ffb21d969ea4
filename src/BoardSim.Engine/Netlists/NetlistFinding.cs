namespace BoardSim.Engine.Netlists;

/// <summary>Something to say about a place in a netlist: what is there, and what would be right.</summary>
/// <param name="Line">Line number, from 1.</param>
/// <param name="Column">Column of the offending word, from 1.</param>
/// <param name="Message">One or two sentences.</param>
public sealed record NetlistFinding(int Line, int Column, string Message)
{
    /// <summary>The finding as compilers print it: <c>file:line:column: message</c>.</summary>
    /// <param name="file">Name of the file, or of what stands for it.</param>
    public string In(string file) => FormattableString.Invariant($"{file}:{Line}:{Column}: {Message}");
}
