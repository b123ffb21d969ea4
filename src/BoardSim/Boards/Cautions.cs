namespace BoardSim.Boards;

/// <summary>The cautions that go with every result of a board with a line side, word for word the same everywhere.</summary>
public static class Cautions
{
    /// <summary>What anybody who puts a probe on the line side has to know.</summary>
    public static IReadOnlyList<string> LineSide { get; } =
    [
        "This board has a line side. Touching it can kill, also after it is unplugged: the bulk capacitor stays charged.",
        "The primary return is not earth. An earthed probe clip on it shorts the line through the instrument.",
        "Computed values do not make a measurement safe. Isolate the board, discharge the capacitor, and prove it dead before touching it.",
        "Use meters and leads rated for the circuit, and an isolated or differential probe.",
        "Follow local codes, and leave live work to licensed practice.",
    ];

    /// <summary>The cautions for a board; empty when nothing on it is on the line side.</summary>
    /// <param name="board">The board.</param>
    public static IReadOnlyList<string> For(Board board)
    {
        ArgumentNullException.ThrowIfNull(board);
        return board.LineSide || board.TestPoints.Any(p => p.LineSide) || board.Currents.Any(c => c.LineSide) ? LineSide : [];
    }
}
