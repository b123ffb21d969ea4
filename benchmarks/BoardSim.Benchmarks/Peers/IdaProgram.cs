using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using BoardSim.Benchmarks.Boards;

namespace BoardSim.Benchmarks.Peers;

/// <summary>
/// The comparison program: SUNDIALS IDA, a general-purpose solver of differential-algebraic equations, behind a reader of the same
/// netlists. It is given a folder of its own with the netlists and our definitions of the metrics, so both sides measure alike.
/// </summary>
internal sealed class IdaProgram : IDisposable
{
    private readonly string program;
    private readonly string folder = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());

    /// <summary>Lays out the folder.</summary>
    /// <param name="program">Path of the built program.</param>
    /// <param name="boards">The circuits.</param>
    public IdaProgram(string program, IReadOnlyList<Board> boards)
    {
        this.program = program;
        Directory.CreateDirectory(Path.Combine(folder, "circuits"));
        File.Copy(Board.DefinitionsFile, Path.Combine(folder, "metrics.txt"));
        foreach (var board in boards)
        {
            File.Copy(board.Path, Path.Combine(folder, "circuits", board.Name + ".cir"));
        }
    }

    /// <summary>Runs a circuit as often as told; the program takes the median of its times.</summary>
    /// <param name="board">The circuit.</param>
    /// <param name="tolerance">Its relative tolerance.</param>
    /// <param name="repeats">Number of timed runs; 0 measures on the program's own interpolant instead and takes no time.</param>
    public IdaResult Run(Board board, double tolerance, int repeats)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in new[] { board.Name, "-dir", folder, "-rtol", tolerance.ToString("R", CultureInfo.InvariantCulture) })
        {
            start.ArgumentList.Add(argument);
        }

        if (repeats > 0)
        {
            start.ArgumentList.Add("-time");
            start.ArgumentList.Add(repeats.ToString(CultureInfo.InvariantCulture));
        }

        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} could not be started.");
        process.ErrorDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        if (text.Length == 0)
        {
            throw new InvalidOperationException($"{program} did not understand {board.Name} (exit code {process.ExitCode}).");
        }

        using var document = JsonDocument.Parse(text);
        var root = document.RootElement;
        var metrics = root.GetProperty("metrics");
        return new IdaResult(
            root.GetProperty("ok").GetBoolean(),
            root.GetProperty("wall_ms").GetDouble(),
            [.. board.Metrics.Select(m => metrics.GetProperty(m.Name) is { ValueKind: JsonValueKind.Number } v ? v.GetDouble() : double.NaN)]);
    }

    /// <summary>Removes the folder.</summary>
    public void Dispose() => Directory.Delete(folder, recursive: true);
}

/// <summary>What the comparison program answered.</summary>
/// <param name="Ok">False when it gave up.</param>
/// <param name="Milliseconds">Time from the parsed circuit to the finished waveform.</param>
/// <param name="Metrics">The metrics, in their order.</param>
internal sealed record IdaResult(bool Ok, double Milliseconds, double[] Metrics);
