using BoardSim.Blocks;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Tests.Blocks;

/// <summary>The catalogue names nothing that a run does not give: every point, current, readout and state of every block, under each of its choices.</summary>
public class ObservableTests
{
    public static TheoryData<string> Ids => [.. BlockCatalogue.All.Select(b => b.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Everything_that_can_be_observed_has_a_value(string id)
    {
        foreach (var block in BlockVariants.Of(id))
        {
            var board = block.Build();
            var probes = board.TestPoints.Select(p => Probe.Voltage(p.Node, p.ReferenceNode))
                .Concat(board.Currents.Select(c => Probe.Current(c.Part)))
                .Concat(board.Readouts.Select(r => Probe.Voltage(r.Node, r.ReferenceNode)))
                .Concat(board.States.Select(s => Probe.State(s.Part, s.State)))
                .ToList();
            var run = Transient.Run(new CircuitSystem(board.Circuit), new TransientOptions { Stop = 20e-6, UseInitialConditions = board.StartsAtRest }, probes);
            for (var k = 0; k < probes.Count; k++)
            {
                Assert.True(run.Values(k).All(double.IsFinite), $"{id}: {probes[k].Label}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Names_of_what_can_be_observed_are_unique_and_their_units_known(string id)
    {
        foreach (var board in BlockVariants.Of(id).Select(b => b.Build()))
        {
            foreach (var names in new[] { board.TestPoints.Select(p => p.Name), board.Currents.Select(c => c.Name), board.Readouts.Select(r => r.Name), board.States.Select(s => s.Name) })
            {
                Assert.All(names, n => Assert.Matches("^[a-z][a-z0-9]*(-[a-z0-9]+)*$", n));
                Assert.Equal(names.Count(), names.Distinct(StringComparer.Ordinal).Count());
            }

            Assert.All(board.States, s => Assert.NotNull(BoardSim.Quantities.Unit.Find(s.Unit)));
            Assert.All(board.Readouts, r => Assert.NotNull(BoardSim.Quantities.Unit.Find(r.Unit)));
        }
    }
}
