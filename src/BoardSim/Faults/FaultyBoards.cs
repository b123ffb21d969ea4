using BoardSim.Boards;

namespace BoardSim.Faults;

/// <summary>Lets faults be chained behind a board: <c>block.Build().With(aged).With(open)</c>.</summary>
public static class FaultyBoards
{
    /// <summary>A copy of the board with a fault.</summary>
    /// <param name="board">The board; it is left as it is.</param>
    /// <param name="fault">The fault.</param>
    /// <param name="severity">Severity in the fault's unit; null for its default.</param>
    /// <exception cref="FaultException">The severity is out of range, or the fault takes none.</exception>
    public static Board With(this Board board, FaultDefinition fault, double? severity = null)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return fault.Apply(board, severity);
    }
}
