using System.CommandLine;
using BoardSim.Engine.Analyses;
using BoardSim.Reports;
using BoardSim.Scenarios;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary><c>run SCENARIO.yaml... [--out DIR]</c>: runs scenarios, shows what came out and writes it into folders.</summary>
internal static class RunCommand
{
    /// <summary>Folder that results go to unless another is named; each scenario has one of its own in it.</summary>
    private const string UsualFolder = "out";

    private const string Description = """
        Runs scenarios: computes each condition, shows readings, metrics and expectations, and writes a folder of results:
        result.json, waveforms.csv, circuit.cir, figures and a handout.

        A condition that is cut short by --time-limit or Ctrl-C has no readings to compare, so nothing is written then: the
        message names the condition and how far it came, and the exit code is 3 for the limit, 130 for Ctrl-C.

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
        var command = new Command("run", Description) { files, folder, limit };
        command.SetAction(parsed => Run(terminal, parsed.GetRequiredValue(files), parsed.GetValue(folder), parsed.GetValue(limit)));
        return command;
    }

    private static int Run(Terminal terminal, string[] files, string? folder, TimeSpan? limit)
    {
        var scenarios = ReadAll(files);
        var jobs = scenarios.Select(s => (Scenario: s, Folder: FolderOf(s, folder, scenarios.Count))).ToList();
        Check(jobs);
        var code = ExitCode.Done;
        foreach (var (scenario, target) in jobs)
        {
            code = Math.Max(code, One(terminal, scenario, target, limit));
        }

        return code;
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

    private static int One(Terminal terminal, Scenario scenario, string folder, TimeSpan? limit)
    {
        try
        {
            var result = Compute(terminal, scenario, limit);
            var written = ResultWriter.Write(result, folder);
            RunSummary.Write(terminal, result, folder, written);
            return result.AllHold ? ExitCode.Done : ExitCode.ExpectationFailed;
        }
        catch (ScenarioRunException failed)
        {
            terminal.Error.WriteLine(failed.Message);
            return failed.InnerException is SolverException ? ExitCode.SolverGaveUp : ExitCode.BadInput;
        }
        catch (ReportException wrong)
        {
            terminal.Error.WriteLine($"{scenario.Id}: {wrong.Message}");
            return ExitCode.BadInput;
        }
    }

    private static ScenarioResult Compute(Terminal terminal, Scenario scenario, TimeSpan? limit)
    {
        var options = new RunOptions { Cancellation = terminal.Cancellation, TimeLimit = limit };
        return !terminal.Messages.Profile.Capabilities.Interactive
            ? ScenarioRunner.Run(scenario, options)
            : terminal.Messages.Progress().AutoClear(true).Start(context =>
            {
                var task = context.AddTask(Markup.Escape(scenario.Id));
                return ScenarioRunner.Run(scenario, options with { Progress = new Bar(task) });
            });
    }

    private sealed class Bar(ProgressTask task) : IProgress<RunProgress>
    {
        public void Report(RunProgress value)
        {
            task.MaxValue = value.Total;
            task.Value = value.Done;
            task.Description = Markup.Escape(value.What);
        }
    }
}
