using BoardSim.Boards;

namespace BoardSim.Faults;

/// <summary>
/// One way in which a part of a block fails. Applying it takes a board and gives another in which parts were changed or
/// added; what a meter then shows is left to the solver.
/// </summary>
public sealed class FaultDefinition
{
    private readonly Func<Board, double, Board> edit;

    /// <summary>Creates a fault that edits parts of the board's circuit.</summary>
    /// <param name="edit">Changes the parts of the board it is given, which is a copy; the number is the severity, or NaN for a
    /// fault that has none.</param>
    public FaultDefinition(Action<Board, double> edit)
        : this((board, severity) =>
        {
            edit(board, severity);
            return board;
        })
    {
        ArgumentNullException.ThrowIfNull(edit);
    }

    /// <summary>Creates a fault that may replace more than parts (the program of a processor, say).</summary>
    /// <param name="edit">Gets a copy of the board and returns the faulty one; the number is the severity, or NaN for a fault
    /// that has none.</param>
    public FaultDefinition(Func<Board, double, Board> edit)
    {
        ArgumentNullException.ThrowIfNull(edit);
        this.edit = edit;
    }

    /// <summary>Name in scenario files: lower case words joined by hyphens, such as <c>bulk-esr-high</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Name for people, one line.</summary>
    public required string Title { get; init; }

    /// <summary>Why it happens in real life.</summary>
    public required string Mechanism { get; init; }

    /// <summary>Name of the part that fails, as in the block's circuit.</summary>
    public required string Part { get; init; }

    /// <summary>What the severity means; null for a fault that is either there or not.</summary>
    public SeverityDefinition? Severity { get; init; }

    /// <summary>A copy of a board with this fault.</summary>
    /// <param name="board">The board; it is left as it is.</param>
    /// <param name="severity">Severity in the unit of <see cref="Severity"/>; null for its default.</param>
    /// <exception cref="FaultException">The severity is out of range or not finite, or the fault takes none.</exception>
    public Board Apply(Board board, double? severity = null)
    {
        ArgumentNullException.ThrowIfNull(board);
        return edit(board.Clone(), Check(severity)).WithStatesOf(board);
    }

    /// <summary>What is wrong with a severity, in one sentence; null when nothing is.</summary>
    /// <param name="severity">Severity in the unit of <see cref="Severity"/>; null for its default.</param>
    public string? Problem(double? severity)
    {
        if (severity is not { } value)
        {
            return null;
        }

        if (Severity is not { } s)
        {
            return $"Fault {Id} takes no severity: it is either there or not.";
        }

        return value >= s.Minimum && value <= s.Maximum
            ? null
            : $"Fault {Id}: severity {s.Show(value)}; it must lie between {s.Show(s.Minimum)} and {s.Show(s.Maximum)} ({s.Description})";
    }

    private double Check(double? severity) =>
        Problem(severity) is { } problem ? throw new FaultException(problem) : severity ?? Severity?.Default ?? double.NaN;
}
