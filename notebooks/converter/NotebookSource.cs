namespace BoardSim.Notebooks;

/// <summary>What a cell holds.</summary>
public enum CellKind
{
    /// <summary>C# that is run.</summary>
    Code,

    /// <summary>Prose in Markdown.</summary>
    Prose,
}

/// <summary>A cell of a source, without its mark and the comment slashes of prose.</summary>
/// <param name="Kind">Code or prose.</param>
/// <param name="Lines">Its lines, without line feeds.</param>
public sealed record SourceCell(CellKind Kind, IReadOnlyList<string> Lines);

/// <summary>A source in percent format.</summary>
/// <param name="Directives">Directives of the file-based app, such as <c>#:project ../src/...</c>.</param>
/// <param name="Cells">The cells in order.</param>
public sealed record NotebookSource(IReadOnlyList<string> Directives, IReadOnlyList<SourceCell> Cells);

/// <summary>A notebook cannot be converted; the message says where and what would be right.</summary>
public sealed class NotebookException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="message">Where, what, and what would be right.</param>
    public NotebookException(string message)
        : base(message)
    {
    }
}
