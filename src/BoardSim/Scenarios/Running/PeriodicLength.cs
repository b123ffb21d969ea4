using BoardSim.Boards;
using BoardSim.Engine.Analyses.PeriodicStates;

namespace BoardSim.Scenarios.Running;

/// <summary>How long a run from the periodic state is.</summary>
/// <param name="Period">Common period of the board's sources, in seconds.</param>
/// <param name="Periods">Number of periods.</param>
internal readonly record struct PeriodicLength(double Period, int Periods)
{
    /// <summary>Length in seconds.</summary>
    public double Seconds => Periods * Period;

    /// <summary>The length of a run on a board.</summary>
    /// <param name="run">The settings; periods that are not given are those between settling and end of the board's suggested run.</param>
    /// <param name="board">The board.</param>
    /// <param name="problem">Receives why there is no periodic state; null when there is one.</param>
    public static PeriodicLength? Of(RunSettings run, Board board, out string? problem) => CommonPeriod.Of(board.Circuit, out problem) is { } period
        ? new PeriodicLength(period, run.Periods ?? Suggested(board, period))
        : null;

    private static int Suggested(Board board, double period) => board is { SuggestedStop: { } stop, SettledFrom: { } settled }
        ? Math.Max(1, (int)Math.Round((stop - settled) / period))
        : 1;
}
