using System.Diagnostics;
using System.Globalization;
using System.Reflection;
using BoardSim.Benchmarks.Boards;
using BoardSim.Engine.Circuits;

namespace BoardSim.Benchmarks.Peers;

/// <summary>The first run of a process, which has to be a process of its own: the program calls itself with the verb <see cref="Verb"/>.</summary>
internal static class ColdRun
{
    /// <summary>The verb, followed by folder, circuit and accuracy.</summary>
    public const string Verb = "cold";

    /// <summary>Time in milliseconds from the parsed circuit to the finished waveform.</summary>
    public static double Measure(string folder, Board board, double accuracy)
    {
        var program = Environment.ProcessPath ?? throw new InvalidOperationException("The path of this program is not known.");
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(program) == "dotnet")
        {
            start.ArgumentList.Add(Assembly.GetExecutingAssembly().Location);
        }

        foreach (var argument in new[] { Verb, folder, board.Name, accuracy.ToString("R", CultureInfo.InvariantCulture) })
        {
            start.ArgumentList.Add(argument);
        }

        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} could not be started.");
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return double.Parse(text, CultureInfo.InvariantCulture);
    }

    /// <summary>What the called process does: it prints its time.</summary>
    /// <param name="arguments">Folder, circuit, accuracy.</param>
    public static void Run(string[] arguments)
    {
        var board = Board.ReadAll(arguments[0]).Single(b => b.Name == arguments[1]);
        var accuracy = double.Parse(arguments[2], CultureInfo.InvariantCulture);
        var watch = Stopwatch.StartNew();
        board.Run(new CircuitSystem(board.Circuit), accuracy);
        Console.Write(watch.Elapsed.TotalMilliseconds.ToString("R", CultureInfo.InvariantCulture));
    }
}
