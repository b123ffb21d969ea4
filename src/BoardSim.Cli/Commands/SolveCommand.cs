using System.CommandLine;
using System.Globalization;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary><c>solve FILE.cir --out DIR [--accuracy 1e-3] [--leaps on|off] [--time-limit 10s]</c>: runs every analysis card of a Berkeley SPICE3 netlist.</summary>
internal static class SolveCommand
{
    private const string Description = """
        Runs every analysis card of a Berkeley SPICE3 netlist (.op .dc .ac .tran) and writes tables of results.

        The first .tran card (without one, the first card) is written to waveforms.csv; further cards to waveforms-op.csv,
        waveforms-dc.csv and waveforms-ac.csv, numbered from the second of a kind on (waveforms-dc-2.csv). A table's first column is time in
        seconds, frequency in hertz or the value of the swept source (two columns for two sources); an operating point has one row
        and no such column. Then follow what the .print cards for that analysis name or, without one, V(node) for each node and
        I(name) for each voltage source and inductor, in volts and amperes. A phasor gives magnitude VM(node) and phase VP(node) in degrees.
        Parts within a subcircuit call X1 are named R1.X1, its inner nodes node.X1.
        result.json tells what the solver did.

        An analysis that is cut short by --time-limit, --most-values or Ctrl-C leaves what it has computed: its table is then
        named waveforms.partial.csv, and result.json gives its status and how far it came. The exit code is 3 for a limit, 130
        for Ctrl-C.
        """;

    public static Command Create(Terminal terminal)
    {
        var file = new Argument<string>("file") { Description = "The netlist, by custom with the ending .cir." };
        var folder = new Option<string>("--out") { Description = "Folder that results are written to; it is made if need be.", Required = true, HelpName = "folder" };
        var accuracy = new Option<double>("--accuracy")
        {
            Description = "Relative accuracy of a transient, 1e-8 to 0.1.",
            DefaultValueFactory = _ => 1e-3,
            HelpName = "number",
            CustomParser = result =>
            {
                var text = result.Tokens[0].Value;
                if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value is >= 1e-8 and <= 0.1)
                {
                    return value;
                }

                result.AddError($"--accuracy '{text}': it must be a number from 1e-8 to 0.1, such as 1e-4.");
                return 0;
            },
        };
        var limit = DurationOption.Create("Longest wall-clock time of each analysis, such as 10s; no limit without it.");
        var most = new Option<long>("--most-values")
        {
            Description = "Most values of a table, rows times columns.",
            DefaultValueFactory = _ => RunLimits.UsualMostValues,
            HelpName = "number",
            CustomParser = result =>
            {
                var text = result.Tokens[0].Value;
                if (long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) && value > 0)
                {
                    return value;
                }

                result.AddError($"--most-values '{text}': it must be a whole number above zero, such as 100000000.");
                return 0;
            },
        };
        var leaps = new Option<string>("--leaps")
        {
            Description = "on: leap over periods of a transient that are alike and interpolate their waveforms, where that keeps the accuracy; off: compute every period.",
            DefaultValueFactory = _ => Leap.Off,
            HelpName = "on|off",
        };
        leaps.AcceptOnlyFromAmong(Leap.On, Leap.Off);
        var command = new Command("solve", Description) { file, folder, accuracy, leaps, limit, most };
        command.SetAction(parsed => Solve(terminal, parsed.GetRequiredValue(file), parsed.GetRequiredValue(folder), new NetlistRunOptions
        {
            Accuracy = parsed.GetValue(accuracy),
            Leaps = parsed.GetValue(leaps) == Leap.On,
            TimeLimit = parsed.GetValue(limit),
            MostValues = parsed.GetValue(most),
            Cancellation = terminal.Cancellation,
        }));
        return command;
    }

    private static int Solve(Terminal terminal, string file, string folder, NetlistRunOptions options)
    {
        OutputFolder.Check(folder);
        var netlist = Read(file);
        foreach (var remark in netlist.Remarks)
        {
            terminal.Error.WriteLine($"Note: {remark.In(file)}");
        }

        if (netlist.Analyses.Count == 0)
        {
            throw new InputException($"{file}: the netlist asks for no analysis; add a card such as .op or .tran 1u 1m.");
        }

        var tables = new List<AnalysisTable>();
        foreach (var card in netlist.Analyses)
        {
            tables.Add(Run(terminal, file, netlist, card, options));
            if (tables[^1].Status == RunStatus.Cancelled)
            {
                break;
            }
        }

        var names = SolveOutput.FileNames(netlist.Analyses, tables);
        using (var output = OutputFolder.Open(folder))
        {
            for (var k = 0; k < tables.Count; k++)
            {
                var columns = tables[k].Columns;
                output.Replaces(SolveOutput.OtherName(names[k]));
                output.Write(names[k], w => CsvText.Write(w, [.. columns.Select(c => c.Label)], [.. columns.Select(c => c.Values)]));
            }

            output.Write("result.json", w => SolveOutput.WriteResult(w, Path.GetFileName(file), netlist, options.Accuracy, tables, names));
            output.Commit();
        }

        SolveOutput.Summarise(terminal, folder, tables, names);
        foreach (var (table, name) in tables.Zip(names).Where(t => t.First.IsPartial))
        {
            terminal.Error.WriteLine($"{file}: {SolveOutput.Cut(table, options, Path.Combine(folder, name))}");
        }

        return tables.Any(t => t.Status == RunStatus.Cancelled) ? ExitCode.Cancelled
            : tables.Any(t => t.IsPartial) ? ExitCode.SolverGaveUp
            : ExitCode.Done;
    }

    private static Netlist Read(string file)
    {
        try
        {
            return NetlistReader.ReadFile(file);
        }
        catch (NetlistException wrong)
        {
            throw new InputException([.. wrong.Findings.Select(f => f.In(file))]);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            throw new InputException($"{file}: there is no such file.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw new InputException(Directory.Exists(file) ? $"{file}: this is a folder; name a netlist file." : $"{file}: cannot be read: {e.Message}");
        }
    }

    private static AnalysisTable Run(Terminal terminal, string file, Netlist netlist, AnalysisCard card, NetlistRunOptions options)
    {
        try
        {
            if (card is not TransientCard || !terminal.Messages.Profile.Capabilities.Interactive)
            {
                return NetlistRunner.Run(netlist, card, options);
            }

            return terminal.Messages.Progress().AutoClear(true).Start(context =>
            {
                var task = context.AddTask(SolveOutput.Word(card.Kind), maxValue: 1);
                return NetlistRunner.Run(netlist, card, options with { Progress = share => task.Value = share });
            });
        }
        catch (CircuitException wrong)
        {
            throw new InputException([.. wrong.Findings.Select(f => $"{file}: {f}")]);
        }
        catch (SolverException gaveUp)
        {
            throw new SolverException($"{file}: {gaveUp.Message}");
        }
    }

    private static class Leap
    {
        public const string On = "on";
        public const string Off = "off";
    }
}
