using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads a scenario from nodes. Every part is read even when others are wrong, so that all findings come at once.</summary>
internal static class ScenarioReader
{
    /// <summary>Longest path of a board that is looked for, in characters.</summary>
    private const int LongestPath = 500;

    /// <summary>The scenario; null when the root is no mapping. It is of use only when nothing was found wrong.</summary>
    public static Scenario? Read(Node node, string id, string folder, Findings findings)
    {
        if (Section.Open(node, ScenarioFormat.Root, findings) is not { } root)
        {
            return null;
        }

        var block = Block(root, folder);
        var before = findings.Count;
        var values = ValuesReader.Read(root.Node("values"), block, findings);
        var together = findings.Count > before ? block?.Build([]) : block?.Build(values);
        foreach (var problem in together ?? [])
        {
            root.Note(root.Has("values") ? "values" : root.Has("board") ? "board" : "block", problem.TrimEnd('.'));
        }

        var run = RunReader.Read(root, block);
        var conditions = ConditionsReader.Read(root, block, values);
        var observations = ObservationsReader.Read(root, block, run);
        var outputs = new Outputs();
        foreach (var observation in observations)
        {
            outputs.Add(observation, ObservationsReader.ReadingUnitOf(observation, block, run.Kind), observation.GivesReading(run.Kind));
        }

        var metrics = MetricsReader.Read(root, block, run, observations, outputs);
        var sweep = SweepReader.Read(root, block, conditions, outputs);
        var tolerance = ToleranceReader.Read(root, block, values, conditions, outputs);
        List<string> conditionNames = [.. root.Named("conditions").Select(e => e.Key.Text)];
        var expectations = ExpectationsReader.Read(root, conditionNames, sweep, tolerance, outputs);
        List<string> observationNames = [.. root.Named("observe").Select(e => e.Key.Text)];
        return new Scenario
        {
            Id = id,
            Title = root.Text("title") ?? "",
            About = root.Text("about") ?? "",
            Block = block?.Id ?? "",
            Board = block?.Plan,
            Values = values,
            Run = run,
            Conditions = conditions,
            Observations = observations,
            Metrics = metrics,
            Sweep = sweep,
            Tolerance = tolerance,
            Expectations = expectations,
            Figures = FiguresReader.Read(root, block, run, observationNames, conditionNames, sweep, tolerance, outputs),
        };
    }

    private static BlockInHand? Block(Section root, string folder)
    {
        if (root.Has("block") == root.Has("board"))
        {
            root.Findings.Add(root.Place, "", "a scenario has either a \"block\" that is run on its bench, or a \"board\" by the name of its file");
        }

        if (root.TextNode("board") is { } file)
        {
            return Board(root, folder, file);
        }

        if (root.TextNode("block") is not { } node)
        {
            return null;
        }

        var block = BlockInHand.Find(node.Text);
        if (block is null)
        {
            root.Findings.AddUnknown(node, "block", Blocks.BlockCatalogue.All.Select(b => b.Id));
        }

        return block;
    }

    private static BlockInHand? Board(Section root, string folder, TextNode file)
    {
        if (file.Text.Length > LongestPath)
        {
            root.Findings.Add(file, $"a path of {file.Text.Length} characters; no board lies that deep");
            return null;
        }

        try
        {
            return BlockInHand.Of(BoardFile.Read(Path.Combine(folder, file.Text)));
        }
        catch (ScenarioException wrong)
        {
            foreach (var finding in wrong.Findings)
            {
                root.Findings.Add(file, finding.ToString());
            }
        }
        catch (ArgumentException)
        {
            root.Findings.Add(file, "this cannot be the path of a file");
        }

        return null;
    }
}
