using BoardSim.Blocks.AcLoads;
using BoardSim.Designs;
using BoardSim.Scenarios;
using BoardSim.Tests.Scenarios;

namespace BoardSim.Tests.Designs;

/// <summary>The demo board stands in four files, for two lines, with the supply chain alone and with its whole load side: what they have in common must not drift apart.</summary>
public class DemoBoardTests
{
    [Theory]
    [InlineData("120v")]
    [InlineData("230v")]
    public void The_full_board_has_every_block_wire_and_value_of_the_small_one(string line)
    {
        var small = Read($"proofer-{line}");
        var full = Read($"proofer-{line}-full");
        Assert.True(full.Blocks.Count > small.Blocks.Count);
        Assert.Equal((small.Ambient, small.ZeroNet), (full.Ambient, full.ZeroNet));
        Assert.All(small.Blocks, block =>
        {
            var twin = Assert.Single(full.Blocks, b => b.Name == block.Name);
            Assert.Equal(block.Block, twin.Block);
            Assert.All(block.Wires, w => Assert.Equal(w.Value, twin.Wires[w.Key]));
            Assert.All(block.Values, v => Assert.Equal(v.Value, twin.Values[v.Key]));

            // The program of the full board has more outputs to serve; nothing else is set anew.
            Assert.All(twin.Values.Keys.Except(block.Values.Keys), key => Assert.StartsWith("out", key, StringComparison.Ordinal));
        });
        Assert.All(small.Parts, part => Assert.Contains(part, full.Parts));
        Assert.All(small.NetPoints, point => Assert.Contains(point, full.NetPoints));
    }

    /// <summary>What a board for another line has other values of: everything up to the converter, and what its relay switches onto the line.</summary>
    private static readonly string[] LineSide = ["mains", "entry", "bridge", "supply", "heater"];

    [Theory]
    [InlineData("")]
    [InlineData("-full")]
    public void Both_lines_have_the_same_board_but_for_what_hangs_on_the_line(string size)
    {
        var (here, there) = (Read($"proofer-120v{size}"), Read($"proofer-230v{size}"));
        Assert.Equal((here.Ambient, here.ZeroNet), (there.Ambient, there.ZeroNet));
        Assert.Equal(here.Blocks.Select(b => (b.Name, b.Block)), there.Blocks.Select(b => (b.Name, b.Block)));
        Assert.All(here.Blocks.Zip(there.Blocks), pair =>
        {
            Assert.Equal(Sorted(pair.First.Wires), Sorted(pair.Second.Wires));
            if (!LineSide.Contains(pair.First.Name))
            {
                Assert.Equal(Sorted(pair.First.Values), Sorted(pair.Second.Values));
            }
        });
        Assert.Equal(here.Parts, there.Parts);
        Assert.Equal(here.NetPoints, there.NetPoints);
    }

    // The element makes the same heat: R goes with the square of the voltage.
    [Fact]
    public void The_heater_makes_the_same_heat_on_both_lines()
    {
        var element = (double)Read("proofer-230v-full").Blocks.Single(b => b.Name == "heater").Values["element.resistance"];
        Assert.Equal(120 * 120 / new Heater().Resistance, 230 * 230 / element, 0.5);
    }

    private static BoardPlan Read(string name) => BoardFile.Read(Path.Combine(Repository.Boards, $"{name}.yaml"));

    private static List<KeyValuePair<string, T>> Sorted<T>(IReadOnlyDictionary<string, T> items) => [.. items.OrderBy(i => i.Key, StringComparer.Ordinal)];
}
