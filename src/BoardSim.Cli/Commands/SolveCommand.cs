using System.CommandLine;
using System.Globalization;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary><c>solve FILE.cir --out DIR [--accuracy 1e-3]</c>: runs every analysis card of a Berkeley SPICE3 netlist.</summary>
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
        var command = new Command("solve", Description) { file, folder, accuracy };
        command.SetAction(parsed => Solve(terminal, parsed.GetRequiredValue(file), parsed.GetRequiredValue(folder), parsed.GetValue(accuracy)));
        return command;
    }

    private static int Solve(Terminal terminal, string file, string folder, double accuracy)
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
            tables.Add(Run(terminal, file, netlist, card, accuracy));
        }

        var names = SolveOutput.FileNames(netlist.Analyses);
        using (var output = OutputFolder.Open(folder))
        {
            for (var k = 0; k < tables.Count; k++)
            {
                var columns = tables[k].Columns;
                output.Write(names[k], w => CsvText.Write(w, [.. columns.Select(c => c.Label)], [.. columns.Select(c => c.Values)]));
            }

            output.Write("result.json", w => SolveOutput.WriteResult(w, Path.GetFileName(file), netlist, accuracy, tables, names));
            output.Commit();
        }

        SolveOutput.Summarise(terminal, folder, tables, names);
        return ExitCode.Done;
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

    private static AnalysisTable Run(Terminal terminal, string file, Netlist netlist, AnalysisCard card, double accuracy)
    {
        var options = new NetlistRunOptions { Accuracy = accuracy, Cancellation = terminal.Cancellation };
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
}
