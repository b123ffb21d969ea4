using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads a scenario from nodes. Every part is read even when others are wrong, so that all findings come at once.</summary>
internal static class ScenarioReader
{
    /// <summary>The scenario; null when the root is no mapping. It is of use only when nothing was found wrong.</summary>
    public static Scenario? Read(Node node, string id, Findings findings)
    {
        if (Section.Open(node, ScenarioFormat.Root, findings) is not { } root)
        {
            return null;
        }

        var block = Block(root);
        var before = findings.Count;
        var values = ValuesReader.Read(root.Node("values"), block, findings);
        var together = findings.Count > before ? block?.Build([]) : block?.Build(values);
        foreach (var problem in together ?? [])
        {
            root.Note(root.Has("values") ? "values" : "block", problem.TrimEnd('.'));
        }

        var run = RunReader.Read(root, block);
        var conditions = ConditionsReader.Read(root, block, values);
        var observations = ObservationsReader.Read(root, block, run);
        var outputs = new Outputs();
        foreach (var observation in observations)
        {
            outputs.Add(observation, ObservationsReader.UnitOf(observation, block), observation.GivesReading(run.Kind));
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

    private static BlockInHand? Block(Section root)
    {
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
}
