using BoardSim.Scenarios;
using BoardSim.Tests.Scenarios;

namespace BoardSim.Tests.Designs;

/// <summary>The demo board stands in two files, one with the supply chain alone and one with its whole load side: what both have must not drift apart.</summary>
public class DemoBoardTests
{
    [Fact]
    public void The_full_board_has_every_block_wire_and_value_of_the_small_one()
    {
        var small = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml"));
        var full = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v-full.yaml"));
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
}
