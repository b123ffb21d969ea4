using BoardSim.Quantities;
using BoardSim.Scenarios.Running;

namespace BoardSim.Scenarios.Reader;

/// <summary>The stretch of time that a scenario records, as far as it is known, and the frequencies that cycles are counted by.</summary>
/// <param name="Block">Id of the block.</param>
/// <param name="From">First recorded instant in seconds.</param>
/// <param name="Stop">End of the run in seconds; null when it is not known.</param>
/// <param name="LineFrequency">Frequency of the mains in hertz; null when there is none.</param>
/// <param name="SwitchingFrequency">Switching frequency in hertz; null when there is none.</param>
internal sealed record RecordedTime(string Block, double From, double? Stop, double? LineFrequency, double? SwitchingFrequency)
{
    /// <summary>What a scenario records; null when its block is not known or there is no time axis.</summary>
    public static RecordedTime? Of(RunSettings run, BlockInHand? block) =>
        run.Kind != RunKind.Transient || block?.Board is not { } board
            ? null
            : run.Start == RunStart.Periodic
            ? new RecordedTime(block.Id, 0, PeriodicLength.Of(run, board, out _)?.Seconds, board.LineFrequency, board.SwitchingFrequency)
            : new RecordedTime(block.Id, run.RecordFrom, run.Stop ?? board.SuggestedStop, board.LineFrequency, board.SwitchingFrequency);

    /// <summary>What is wrong with a window; null when nothing is.</summary>
    public string? Problem(WindowSpec window)
    {
        var line = window.Kind == WindowKind.LastLineCycles;
        var cycles = line || window.Kind == WindowKind.LastSwitchingCycles;
        var frequency = line ? LineFrequency : SwitchingFrequency;
        if (cycles && frequency is null)
        {
            return $"block {Block} has no {(line ? "line" : "switching")} frequency to count cycles by; give times, such as 10 ms to 30 ms";
        }

        // Rounding must not refuse a window that fills the record.
        var slack = 1e-9 * (Stop ?? 0);
        var from = cycles ? Stop - window.Cycles / frequency : window.From;
        var to = cycles || window.To == double.MaxValue ? Stop : window.To;
        return Stop is { } stop && (from < From - slack || from >= stop || to > stop + slack)
            ? $"only {Quantity.FormatShort(From, Unit.Second)} to {Quantity.FormatShort(stop, Unit.Second)} is recorded; shorten the stretch, or run longer"
            : null;
    }
}
