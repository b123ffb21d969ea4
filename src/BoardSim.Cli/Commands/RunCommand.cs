using System.CommandLine;
using System.Globalization;
using BoardSim.Engine.Analyses;
using BoardSim.Reports;
using BoardSim.Scenarios;

namespace BoardSim.Cli.Commands;

/// <summary><c>run SCENARIO.yaml... [--out DIR] [--threads N] [--resume] [--shard I/N]</c>: runs scenarios, shows what came out and writes it into
/// folders.</summary>
internal static class RunCommand
{
    /// <summary>Folder that results go to unless another is named; each scenario has one of its own in it.</summary>
    private const string UsualFolder = "out";

    private const string Description = """
        Runs scenarios: computes each condition, shows readings, metrics and expectations, and writes a folder of results:
        result.json, waveforms.csv, circuit.cir, figures and a handout.

        A condition that is cut short by --time-limit or Ctrl-C has no readings to compare, so nothing is written then: the
        message names the condition and how far it came, and the exit code is 3 for the limit, 130 for Ctrl-C.

        A sweep or tolerance run that is cancelled leaves its finished cases in the folder, in cases.partial.jsonl; --resume goes on from
        there and ends with the same results. --shard 2/8 computes every eighth case, from the second on, into a file of its own; with the
        files of all shards in one folder, --resume puts them together.

        Ends with 0 when every expectation holds, 1 when one does not, 2 when a file or a circuit is wrong, 3 when the solver gave
        up, 130 when cancelled. With several scenarios all are run, and the highest of these counts.
        """;

    public static Command Create(Terminal terminal)
    {
        var files = new Argument<string[]>("scenario") { Description = "Scenario files.", Arity = ArgumentArity.OneOrMore };
        var folder = new Option<string?>("--out")
        {
            Description = $"Folder that results are written to; {UsualFolder}/NAME without it, NAME being the scenario file's name without extension. With several scenarios, each gets a folder NAME inside it.",
            HelpName = "folder",
        };
        var limit = DurationOption.Create("Longest wall-clock time of each condition and sweep point, such as 10s; no limit without it.");
        var threads = new Option<int?>("--threads")
        {
            Description = "Most computations at the same time; all processors without it. Results are the same whatever it is.",
            HelpName = "count",
        };
        var resume = new Option<bool>("--resume") { Description = "Goes on from the finished cases in the folder of results." };
        var shard = new Option<string?>("--shard") { Description = "Computes one part of the cases of sweep and tolerance run, and nothing else: 2/8 is the second of eight.", HelpName = "i/n" };
        var command = new Command("run", Description) { files, folder, limit, threads, resume, shard };
        command.SetAction(parsed => Run(
            terminal, parsed.GetRequiredValue(files), parsed.GetValue(folder),
            new CaseSettings(Threads(parsed.GetValue(threads)), parsed.GetValue(resume), parsed.GetValue(shard) is { } part ? ShardOf(part) : null),
            parsed.GetValue(limit)));
        return command;
    }

    private static int Run(Terminal terminal, string[] files, string? folder, CaseSettings settings, TimeSpan? limit)
    {
        var scenarios = ReadAll(files);
        var jobs = scenarios.Select(s => (Scenario: s, Folder: FolderOf(s, folder, scenarios.Count))).ToList();
        Check(jobs);
        var stores = jobs.Select(job => CaseFiles.Open(job.Scenario, job.Folder, settings)).ToList();
        var code = ExitCode.Done;
        foreach (var ((scenario, target), store) in jobs.Zip(stores))
        {
            code = Math.Max(code, One(terminal, scenario, target, settings, store, limit));
        }

        return code;
    }

    private static int Threads(int? threads) => threads switch
    {
        null => Environment.ProcessorCount,
        >= 1 and <= 1024 => threads.Value,
        _ => throw new InputException($"--threads {threads}: give a number from 1 to 1024."),
    };

    private static Shard ShardOf(string text)
    {
        var parts = text.Split('/');
        return parts.Length == 2
            && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var index)
            && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            && index >= 1 && index <= count
            ? new Shard(index, count)
            : throw new InputException($"--shard {text}: write which part of how many, from 1/1 on, such as 2/8.");
    }

    /// <summary>Reads all files before anything is run, so that what is wrong with the last is known at once.</summary>
    private static List<Scenario> ReadAll(string[] files)
    {
        var scenarios = new List<Scenario>();
        var wrong = new List<string>();
        foreach (var file in files)
        {
            try
            {
                scenarios.Add(ScenarioFile.Read(file));
            }
            catch (ScenarioException refused)
            {
                wrong.AddRange(refused.Findings.Select(f => f.ToString()));
            }
        }

        wrong.AddRange(scenarios.GroupBy(s => s.Id, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1)
            .Select(g => $"{g.Count()} of the files are named {g.Key}, and their results would overwrite each other; run them one by one, each with an --out of its own."));
        return wrong.Count > 0 ? throw new InputException(wrong) : scenarios;
    }

    private static string FolderOf(Scenario scenario, string? folder, int count) =>
        folder is null ? Path.Combine(UsualFolder, scenario.Id) : count == 1 ? folder : Path.Combine(folder, scenario.Id);

    private static void Check(IEnumerable<(Scenario Scenario, string Folder)> jobs)
    {
        foreach (var (_, folder) in jobs)
        {
            try
            {
                ResultWriter.Check(folder);
            }
            catch (ReportException wrong)
            {
                throw new InputException($"--out: {wrong.Message}");
            }
        }
    }

    private static int One(Terminal terminal, Scenario scenario, string folder, CaseSettings settings, CaseStore store, TimeSpan? limit)
    {
        var options = new RunOptions { Cancellation = terminal.Cancellation, TimeLimit = limit, MaxParallel = settings.Threads, Cases = store };
        try
        {
            if (settings.Shard is { } shard)
            {
                var count = RunProgressView.Follow(terminal, scenario.Id, options, o => ScenarioRunner.RunShard(scenario, shard, o));
                terminal.Output.WriteLine($"{scenario.Id}: {count} cases of shard {shard} are in {store.Path}. With the files of all shards in one folder, run with --resume to put them together.");
                return ExitCode.Done;
            }

            var result = RunProgressView.Follow(terminal, scenario.Id, options, o => ScenarioRunner.Run(scenario, o));
            var written = ResultWriter.Write(result, folder);
            store.Delete();
            RunSummary.Write(terminal, result, folder, written);
            return result.AllHold ? ExitCode.Done : ExitCode.ExpectationFailed;
        }
        catch (OperationCanceledException) when (store.Finished > 0)
        {
            store.Flush();
            throw new CancelledException($"Cancelled. {store.Finished} finished cases are kept in {store.Path}; the same command with --resume goes on from there.");
        }
        catch (ScenarioRunException failed)
        {
            terminal.Error.WriteLine(failed.Message);
            return failed.InnerException is SolverException ? ExitCode.SolverGaveUp : ExitCode.BadInput;
        }
        catch (Exception wrong) when (wrong is ReportException or CaseStoreException)
        {
            terminal.Error.WriteLine($"{scenario.Id}: {wrong.Message}");
            return ExitCode.BadInput;
        }
    }
}
