using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using BoardSim.Benchmarks.Peers;
using BoardSim.Engine.Analyses;

namespace BoardSim.Benchmarks.Boards;

/// <summary>
/// The verb <c>references</c>: what the metrics of a folder's circuits should be, by the comparison program, which shares no line with
/// this engine, or by this engine where that one gives up; the uncertainty is the largest distance from the other answers.
/// </summary>
internal static class ReferencesRun
{
    private const double Tight = 1e-7;
    private const double Coarser = 1e-6;
    private static readonly double[] IdaTolerances = [1e-8, 1e-7];
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Computes and writes <c>NAME.json</c> for each circuit.</summary>
    /// <param name="folder">Folder with <c>circuits/</c>.</param>
    /// <param name="target">Folder for the files.</param>
    /// <param name="program">Path of the comparison program, or null.</param>
    /// <param name="names">Circuits; all when empty.</param>
    public static void Run(string folder, string target, string? program, string[] names)
    {
        Directory.CreateDirectory(target);
        var boards = Board.ReadAll(folder).Where(b => names.Length == 0 || names.Contains(b.Name)).ToList();
        using var ida = program is null ? null : new IdaProgram(program, boards);
        foreach (var board in boards)
        {
            // The most independent answer first, then the most accurate.
            List<(string Source, double[] Values)> answers =
            [
                .. Ida(ida, board),
                .. Ours(board, Tight),
            ];
            if (answers.Count < 2)
            {
                answers.AddRange(Ours(board, Coarser));
            }

            if (answers.Count < 2)
            {
                Console.WriteLine($"{board.Name}: fewer than two answers, so nothing tells how good the only one is.");
                continue;
            }

            var metrics = new JsonObject();
            for (var k = 0; k < board.Metrics.Count; k++)
            {
                var away = answers.Max(a => Math.Abs(a.Values[k] - answers[0].Values[k]));
                metrics[board.Metrics[k].Name] = new JsonObject { ["value"] = answers[0].Values[k], ["uncertainty"] = TwoDigits(away) };
            }

            var source = $"{answers[0].Source}; uncertainty: largest distance from {string.Join(" and ", answers.Skip(1).Select(a => a.Source))}";
            var text = new JsonObject { ["source"] = source, ["metrics"] = metrics }.ToJsonString(Indented);
            File.WriteAllText(Path.Combine(target, board.Name + ".json"), text + "\n");
            Console.WriteLine($"{board.Name}\n{text}");
        }
    }

    private static IEnumerable<(string Source, double[] Values)> Ida(IdaProgram? ida, Board board)
    {
        foreach (var tolerance in ida is null ? [] : IdaTolerances)
        {
            var result = ida!.Run(board, tolerance, 0);
            if (result.Ok)
            {
                yield return ($"SUNDIALS IDA at {tolerance:0e+0}", result.Metrics);
            }
        }
    }

    private static IEnumerable<(string Source, double[] Values)> Ours(Board board, double accuracy)
    {
        double[] values;
        try
        {
            values = board.MeasureAlone(accuracy);
        }
        catch (SolverException stuck)
        {
            Console.WriteLine($"{board.Name} at {accuracy:0e+0}: {stuck.Message}");
            yield break;
        }

        yield return ($"this engine at {accuracy:0e+0}", values);
    }

    private static double TwoDigits(double value) => double.Parse(value.ToString("0.0e+0", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
