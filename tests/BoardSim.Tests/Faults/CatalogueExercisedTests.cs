using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Scenarios;
using BoardSim.Tests.Blocks;
using BoardSim.Tests.Scenarios;

namespace BoardSim.Tests.Faults;

/// <summary>
/// The catalogue has no entry that a run does not exercise: each fault, under whichever choice a block has it, is computed by a scenario or by one of the tests that go through
/// faults, and each point, current, readout and state is observed by a scenario or shows something on the block's own bench.
/// </summary>
public class CatalogueExercisedTests
{
    private static readonly Lazy<IReadOnlyList<Scenario>> AllScenarios = new(() => [.. Repository.ScenarioFiles.Select(ScenarioFile.Read)]);

    private static readonly Lazy<ILookup<string, string>> FaultsOfScenarios = new(() => Lookup(
        s => s.Conditions.SelectMany(c => c.Faults).Select(f => f.Fault)));

    private static readonly Lazy<ILookup<string, string>> SeenByScenarios = new(() => Lookup(
        s => s.Observations.SelectMany(o => new[] { o.TestPoint, o.Against, o.Current, o.Readout, o.State, o.PerPoint, o.PerCurrent }).OfType<string>()));

    public static TheoryData<string> Ids => [.. BlockCatalogue.All.Select(b => b.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_fault_is_run(string id)
    {
        var run = FaultsOfScenarios.Value[id].Concat(FaultsOfTests(id)).ToHashSet(StringComparer.Ordinal);
        Assert.Empty(BlockVariants.Of(id).SelectMany(v => v.Faults).Select(f => f.Id).Except(run));
    }

    // A scenario without the fault it names would be refused by its reader, and a test on a fault that is not there fails by itself; this way round nothing else looks.
    [Theory]
    [MemberData(nameof(Ids))]
    public void Everything_that_can_be_observed_is_observed_or_shows_something(string id)
    {
        var seen = SeenByScenarios.Value[id].ToHashSet(StringComparer.OrdinalIgnoreCase);
        var dead = new HashSet<string>(StringComparer.Ordinal);
        var alive = new HashSet<string>(StringComparer.Ordinal);
        foreach (var board in BlockVariants.Of(id).Select(v => v.Build()))
        {
            List<(string Name, Probe Probe)> left =
            [
                .. board.TestPoints.Select(p => (p.Name, Probe.Voltage(p.Node, p.ReferenceNode)))
                    .Concat(board.Currents.Select(c => (c.Name, Probe.Current(c.Part))))
                    .Concat(board.Readouts.Select(r => (r.Name, Probe.Voltage(r.Node, r.ReferenceNode))))
                    .Concat(board.States.Select(s => (s.Name, Probe.State(s.Part, s.State))))
                    .Where(p => !seen.Contains(p.Name) && !alive.Contains(p.Name)),
            ];
            if (left.Count == 0)
            {
                continue;
            }

            var shows = Shows(board, [.. left.Select(p => p.Probe)]);
            alive.UnionWith(left.Where((_, k) => shows[k]).Select(p => p.Name));
            dead.UnionWith(left.Select(p => p.Name));
        }

        Assert.Empty(dead.Except(alive));
    }

    /// <summary>Which of the probes are anything but zero all along, on a healthy bench; a block at rest has its operating point.</summary>
    private static bool[] Shows(Board board, Probe[] probes)
    {
        var system = new CircuitSystem(board.Circuit);
        var stop = board.SwitchingFrequency is { } f ? 50 / f : board.SuggestedStop ?? 1e-3;
        var run = Transient.Run(system, new TransientOptions { Stop = stop, UseInitialConditions = board.StartsAtRest }, probes);
        return [.. probes.Select((_, k) => run.Values(k).Any(v => Math.Abs(v) > 1e-9))];
    }

    /// <summary>Names that scenarios use, by the block that they belong to; on a board the part before the first point names the place.</summary>
    private static ILookup<string, string> Lookup(Func<Scenario, IEnumerable<string>> names)
    {
        var pairs = new List<(string Block, string Name)>();
        foreach (var scenario in AllScenarios.Value)
        {
            foreach (var name in names(scenario))
            {
                if (scenario.Board is null)
                {
                    pairs.Add((scenario.Block, name));
                }
                else if (name.IndexOf('.', StringComparison.Ordinal) is var dot and > 0
                    && scenario.Board.Blocks.FirstOrDefault(b => string.Equals(b.Name, name[..dot], StringComparison.OrdinalIgnoreCase)) is { } place)
                {
                    pairs.Add((place.Block, name[(dot + 1)..]));
                }
            }
        }

        return pairs.ToLookup(p => p.Block, p => p.Name);
    }

    /// <summary>Faults that the theories run which go through faults, from the data of those theories.</summary>
    private static IEnumerable<string> FaultsOfTests(string id)
    {
        var names = BlockFaultTests.Pairs.Where(p => p.Block == id).Select(p => p.Fault);
        return id switch
        {
            "bridge-bulk" => names.Concat(DoublerTests.FaultsRun),
            "flyback-supply" => names.Concat(FlybackSupplyTests.FaultsRun),
            "processor" => names.Concat(ProcessorOutputTests.Faults),
            _ => names,
        };
    }
}
