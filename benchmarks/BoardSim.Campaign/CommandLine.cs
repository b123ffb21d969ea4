using System.CommandLine;
using System.Text.Json;

namespace BoardSim.Campaign;

/// <summary>The command line: <c>draw</c> runs random cases, <c>replay</c> runs stored ones.</summary>
internal static class CommandLine
{
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        var parsed = Root(output, error).Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var message in parsed.Errors)
            {
                error.WriteLine(message.Message);
            }

            return 2;
        }

        return parsed.Invoke();
    }

    private static RootCommand Root(TextWriter output, TextWriter error)
    {
        var seed = new Option<ulong>("--seed") { Description = "Seed of the campaign, a whole number.", DefaultValueFactory = _ => 1 };
        var count = new Option<int>("--count") { Description = "Number of cases.", DefaultValueFactory = _ => 10_000 };
        var from = new Option<int>("--from") { Description = "Number of the first case.", DefaultValueFactory = _ => 0 };
        var threads = new Option<int>("--threads") { Description = "Threads; all processors unless given.", DefaultValueFactory = _ => Environment.ProcessorCount };
        var block = new Option<string?>("--block") { Description = "Draw from this block only." };
        var file = new Option<string?>("--out") { Description = "File for the cases that failed, one JSON object a line; replay takes it." };
        var each = new Option<bool>("--each") { Description = "Print a line for each case as it ends." };
        foreach (var option in new[] { count, from, threads })
        {
            option.Validators.Add(result =>
            {
                if (result.GetValueOrDefault<int>() < (option == from ? 0 : 1))
                {
                    result.AddError($"{option.Name} must be {(option == from ? "0" : "1")} or more.");
                }
            });
        }

        block.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } id && Blocks.BlockCatalogue.Find(id) is null)
            {
                result.AddError($"--block {id}: there is no such block; there are {string.Join(", ", Blocks.BlockCatalogue.All.Select(b => b.Id))}.");
            }
        });
        var draw = new Command("draw", "Draws cases by seed and number, runs and judges them. Exit code 1 when one failed.") { seed, count, from, threads, block, file, each };
        draw.SetAction(p => Campaign.Draw(
            new CampaignPlan(p.GetValue(seed), p.GetValue(from), p.GetValue(count), p.GetValue(threads), p.GetValue(block), p.GetValue(file), p.GetValue(each)), output, error));

        var stored = new Argument<FileInfo>("file") { Description = "File of cases, as draw --out writes it." };
        stored.AcceptExistingOnly();
        var netlist = new Option<bool>("--netlist") { Description = "Print each circuit as a netlist, too." };
        var replay = new Command("replay", "Runs stored cases again. Exit code 1 when one failed.") { stored, threads, netlist, each };
        replay.SetAction(p =>
        {
            var path = p.GetRequiredValue(stored).FullName;
            try
            {
                return Campaign.Replay(path, p.GetValue(threads), p.GetValue(netlist), p.GetValue(each), output, error);
            }
            catch (JsonException wrong)
            {
                error.WriteLine($"{path}, {wrong.Message}");
                return 2;
            }
        });

        return new RootCommand("Convergence campaign: random values, faults and edits of parts on all blocks; each case converges, is refused for what is wrong with it, or has failed.") { draw, replay };
    }
}
